# SPDX-License-Identifier: Apache-2.0
"""Runs ./demo.sh as a stranger would: a clean copy of the project under a path with a blank in it,
called from an empty folder; then looks at what it made."""
import json
import shutil
import tempfile
from pathlib import Path

PAPERS = ("packet.pdf", "pieces.csv", "result.json", "plan.svg")


def check_demo(lane, project, run, files):
    with tempfile.TemporaryDirectory(prefix="eavesmith demo ") as folder:
        copy = Path(folder) / "clean copy"
        empty = Path(folder) / "empty"
        empty.mkdir()
        for name in files:
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(project / name, copy / name)
        code, out, err = run([copy / "demo.sh"], cwd=empty)
        lane.count(code == 0, "./demo.sh on a clean copy exits 0", out + err)
        lane.count(not list(empty.iterdir()), "the folder it was called from stays empty")
        if code != 0:
            return
        said = out.strip().splitlines()
        packet = Path(said[-1]) if said else Path("/nowhere")
        lane.count(packet.is_dir(), "its last line is the folder of the packet", out)
        for name in PAPERS:
            paper = packet / name
            lane.count(paper.is_file() and paper.stat().st_size > 0, f"{name} was made")
        check_papers(lane, packet, run)
        check_words(lane, copy, run)
        code, out, err = run([copy / "demo.sh"], cwd=empty, timeout=60)
        lane.count(code == 0, "a second run exits 0", out + err)
        moved = Path(folder) / "moved"
        copy.rename(moved)
        code, out, err = run([moved / "demo.sh"], cwd=empty)
        lane.count(code == 0, "it runs again after the project was moved", out + err)


def check_words(lane, copy, run):
    """The command as people type it: options anywhere, slips named, exit codes of the design."""
    program = copy / "build/eavesmith"
    porch = copy / "examples/porch/porch.yaml"
    before = run([program, "solve", "--json", porch])
    after = run([program, "solve", porch, "--json"])
    lane.count(before[0] == 0 and before[:2] == after[:2], "options stand before or behind", before[2])
    for words, code, says in ((["solve", porch, "--j"], 2, "no option --j"), (["solve"], 2, "usage:"),
                              (["solve", "no such file.yaml"], 2, "no such file.yaml"),
                              (["forge", porch], 2, "no command forge"),
                              (["packet", porch], 2, "-o FOLDER"),
                              (["why", porch, "runs/porch/lenght_m"], 2, "runs/porch/length_m")):
        answer = run([program, *words])
        lane.count(answer[0] == code and says in answer[2] and not answer[1],
                   f"{words[0]}, mistyped, says {says}", answer[1] + answer[2])


def check_papers(lane, packet, run):
    code, out, err = run(["qpdf", "--check", packet / "packet.pdf"])
    lane.count(code == 0, "packet.pdf is sound", out + err)
    code, out, err = run(["pdffonts", packet / "packet.pdf"])
    fonts = out.splitlines()[2:]
    # columns from the right: object ID (two numbers), uni, sub, emb
    embedded = [line for line in fonts if line.split()[-5] == "yes"]
    lane.count(code == 0 and fonts and len(embedded) == len(fonts), "its fonts are embedded", out + err)
    code, out, err = run(["pdftotext", "-layout", packet / "packet.pdf", "-"])
    lane.count(code == 0 and len(out.split()) > 50, "its text can be selected", err)
    try:
        result = json.loads((packet / "result.json").read_text(encoding="utf-8"))
        lane.count(result.get("eavesmith") == 1, 'result.json says "eavesmith": 1')
    except (OSError, ValueError) as error:
        lane.count(False, "result.json is JSON", str(error))
