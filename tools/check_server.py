#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Knocks at every door of `eavesmith serve`, on a build with sanitizers if it is given one. Prints TAP.

Usage: check_server.py PROGRAM [--long] [--seed N]
"""
import argparse
import http.client
import json
import os
import random
import re
import shutil
import signal
import socket
import stat
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from urllib.parse import quote

PROJECT = Path(__file__).resolve().parent.parent
SECRET = "walnut-sideboard"
EXAMPLES = sorted(path for path in (PROJECT / "examples").rglob("*.yaml")
                  if path.read_text(encoding="utf-8").find("eavesmith: 1") >= 0)
POLICY = ("default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; "
          "img-src 'self' blob: data:; connect-src 'self'; font-src 'self'; form-action 'none'; "
          "base-uri 'none'; frame-ancestors 'none'")


class Points:
    def __init__(self):
        self.count = 0
        self.failed = 0

    def point(self, good, name, notes=""):
        self.count += 1
        if not good:
            self.failed += 1
            for line in str(notes)[:2000].splitlines():
                print(f"# {line}")
        print(f"{'ok' if good else 'not ok'} {self.count} - {name}", flush=True)

    def same(self, got, wanted, name):
        self.point(got == wanted, name, f"got    {got!r}\nwanted {wanted!r}")


class Answer:
    def __init__(self, status, headers, body):
        self.status, self.headers, self.body = status, headers, body

    def json(self):
        return json.loads(self.body)

    def code(self):
        try:
            return self.json()["error"]["code"]
        except (ValueError, KeyError, TypeError):
            return None


class Served:
    """The program serving a folder; ended by a signal, its words kept."""

    def __init__(self, program, folder, port=0):
        env = {**os.environ, "ASAN_OPTIONS": "quarantine_size_mb=8:detect_leaks=1",
               "UBSAN_OPTIONS": "halt_on_error=1:print_stacktrace=1",
               "LSAN_OPTIONS": f"suppressions='{PROJECT}/tools/leaks.txt':print_suppressions=0"}
        self.errors = tempfile.TemporaryFile()
        self.process = subprocess.Popen([program, "serve", folder, "--port", str(port)], env=env,
                                        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                                        stderr=self.errors)
        self.address = self.process.stdout.readline().decode()
        found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)/start\?token=([0-9a-f]{32})\n",
                             self.address)
        self.port = int(found.group(1)) if found else 0
        self.token = found.group(2) if found else ""
        self.host = f"127.0.0.1:{self.port}"

    def ask(self, method, path, body=None, headers=None, token=True):
        """One request on a connection of its own; waits when it is told to. A header given as None
        is left out."""
        answer = self.ask_once(method, path, body, headers, token)
        while token and answer.status == 429:
            time.sleep(0.2)
            answer = self.ask_once(method, path, body, headers, token)
        return answer

    def ask_once(self, method, path, body, headers, token):
        sent = {"Host": self.host}
        if token:
            sent["Authorization"] = f"Bearer {self.token}"
        if body is not None:
            body = body if isinstance(body, bytes) else json.dumps(body).encode()
            sent["Content-Type"] = "application/json"
            sent["Content-Length"] = str(len(body))
        sent.update(headers or {})
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        for name, value in sent.items():
            for one in value if isinstance(value, list) else [value]:
                if one is not None:
                    connection.putheader(name, one)
        connection.endheaders(body)
        answer = connection.getresponse()
        whole = Answer(answer.status, answer.headers, answer.read())
        connection.close()
        return whole

    def raw(self, data, timeout=5):
        """Bytes as they are; what comes back until the connection is closed."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=timeout) as line:
            got = b""
            try:
                line.sendall(data)
                line.shutdown(socket.SHUT_WR)
                while part := line.recv(65536):
                    got += part
            except OSError:
                pass
            return got

    def memory_kb(self):
        text = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        return int(re.search(r"VmRSS:\s+(\d+)", text).group(1))

    def lives(self):
        return self.process.poll() is None

    def end(self, how=signal.SIGINT):
        """(exit code, standard error)"""
        if self.lives():
            self.process.send_signal(how)
        try:
            code = self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            code = None
        self.process.stdout.close()
        self.errors.seek(0)
        return code, self.errors.read().decode(errors="replace")


# ---- the folder ---------------------------------------------------------------------------------

def make_folder(root):
    jobs = root / "jobs"
    jobs.mkdir()
    for example in EXAMPLES:
        place = jobs / f"{example.parent.name}-{example.name}"
        text = example.read_text(encoding="utf-8")
        for beside in example.parent.iterdir():
            if beside != example and beside.suffix in (".yaml", ".csv"):
                new = f"{example.parent.name}-{beside.name}"
                if beside.name in text:
                    text = text.replace(beside.name, new)
                    shutil.copy(beside, jobs / new)
        place.write_text(text, encoding="utf-8")
    outside = root / "outside"
    outside.mkdir()
    (outside / "secret.yaml").write_text(f"eavesmith: 1\njob: {SECRET}\n", encoding="utf-8")
    (jobs / "link.yaml").symlink_to(outside / "secret.yaml")
    (jobs / "linked").symlink_to(outside)
    (jobs / ".hidden.yaml").write_text(SECRET, encoding="utf-8")
    (jobs / "notes.txt").write_text(SECRET, encoding="utf-8")
    (jobs / "folder.yaml").mkdir()
    os.mkfifo(jobs / "pipe.yaml")
    (jobs / "sub").mkdir()
    (jobs / "sub" / "list.yaml").write_text("eavesmith prices: 1\n", encoding="utf-8")
    return jobs


def make_program(root, program):
    """A copy with a page beside it, as it lies when it is installed."""
    copy = root / "bin" / "eavesmith"
    page = root / "bin" / "page"
    (page / "assets").mkdir(parents=True)
    shutil.copy(program, copy)
    (page / "index.html").write_text("<!doctype html><title>x</title>", encoding="utf-8")
    (page / "assets" / "main.js").write_text("1", encoding="utf-8")
    (page / "heart.wasm").write_bytes(b"\0asm\1\0\0\0")
    (page / "notes.bak").write_text(SECRET, encoding="utf-8")
    (page / "out.html").symlink_to(root / "outside" / "secret.yaml")
    return copy


# ---- doors --------------------------------------------------------------------------------------

def check_start(points, served):
    points.point(served.port > 0, "one start address with a token is printed", served.address)
    listening = [line.split()[1] for line in
                 Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]
                 if line.split()[3] == "0A" and line.split()[1].endswith(f":{served.port:04X}")]
    points.same(listening, [f"0100007F:{served.port:04X}"], "it listens on the loopback address only")
    answer = served.ask("GET", f"/start?token={served.token}", token=False)
    points.same((answer.status, answer.headers["Location"]), (303, "/"), "start leads to the page")
    cookie = answer.headers["Set-Cookie"] or ""
    points.point({"HttpOnly", "SameSite=Strict", "Path=/"} <= set(cookie.split("; ")),
                 "the cookie is HttpOnly and SameSite=Strict", cookie)
    name = cookie.split(";")[0]
    points.same(served.ask("GET", "/api/jobs", token=False, headers={"Cookie": name}).status, 200,
                "the cookie opens")
    points.same(served.ask("GET", "/", token=False, headers={"Cookie": f"a=b; {name}"}).status, 200,
                "the cookie opens among others")


def check_strangers(points, served):
    wrong = "0" * 32
    tries = {
        "no token": ("/api/jobs", {}),
        "no token for the page": ("/", {}),
        "a wrong token": ("/api/jobs", {"Authorization": f"Bearer {wrong}"}),
        "a token cut short": ("/api/jobs", {"Authorization": f"Bearer {served.token[:-1]}"}),
        "a token and more": ("/api/jobs", {"Authorization": f"Bearer {served.token}0"}),
        "a wrong cookie": ("/api/jobs", {"Cookie": f"eavesmith-{served.port}={wrong}"}),
        "another port's cookie": ("/api/jobs", {"Cookie": f"eavesmith-1={served.token}"}),
        "the token in another address": (f"/api/jobs?token={served.token}", {}),
        "start with a wrong token": (f"/start?token={wrong}", {}),
        "start without one": ("/start", {}),
    }
    for name, (path, headers) in tries.items():
        answer = served.ask("GET", path, token=False, headers=headers)
        points.same((answer.status, answer.headers["Set-Cookie"]), (403, None), f"refused: {name}")
    flood = [served.ask("GET", "/api/jobs", token=False).status for _ in range(200)]
    points.point(429 in flood and set(flood) <= {403, 429}, "strangers are slowed down", set(flood))
    points.same(served.ask("GET", "/api/jobs").status, 200, "who has the token is not")


def check_places(points, served):
    good = {"Host": f"localhost:{served.port}"}
    points.same(served.ask("GET", "/api/jobs", headers=good).status, 200, "localhost is this host")
    for host in ("evil.example", f"evil.example:{served.port}", "127.0.0.1", "localhost",
                 f"127.0.0.1:{served.port}.evil.example", f"127.0.0.1:{served.port + 1}", ""):
        answer = served.ask("GET", "/api/jobs", headers={"Host": host})
        points.point(answer.status in (400, 421), f"refused: Host {host!r}", answer.status)
    two = served.ask("GET", "/api/jobs", headers={"Host": [served.host, "evil.example"]})
    points.point(two.status in (400, 421), "refused: two hosts", two.status)
    none = served.ask("GET", "/api/jobs", headers={"Host": None})
    points.point(none.status in (400, 421), "refused: no host", none.status)
    for origin in ("http://evil.example", "null", f"https://{served.host}", "file://",
                   f"http://localhost:{served.port}", f"http://{served.host}.evil.example"):
        answer = served.ask("POST", "/api/tree", {"text": "a: 1"}, {"Origin": origin})
        points.same((answer.status, answer.code()), (403, "WRONG_ORIGIN"),
                    f"refused: Origin {origin}")
    own = served.ask("POST", "/api/tree", {"text": "a: 1"},
                     {"Origin": f"http://{served.host}", "Sec-Fetch-Site": "same-origin"})
    points.same(own.status, 200, "its own page may ask")
    for site in ("cross-site", "same-site"):
        answer = served.ask("GET", "/api/jobs", headers={"Sec-Fetch-Site": site})
        points.same(answer.status, 403, f"refused: sent from {site}")


def check_bodies(points, served):
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data",
                 "application/jsonx", None):
        answer = served.ask("POST", "/api/tree", {"text": "a: 1"}, {"Content-Type": kind})
        points.same((answer.status, answer.code()), (415, "WRONG_TYPE"), f"refused: type {kind}")
    head = (f"POST /api/solve HTTP/1.1\r\nHost: {served.host}\r\nAuthorization: Bearer "
            f"{served.token}\r\nContent-Type: application/json\r\n").encode()
    for length in (b"4194305", b"99999999999", b"18446744073709551615"):
        got = served.raw(head + b"Content-Length: " + length + b"\r\n\r\n{}")
        points.point(got.startswith(b"HTTP/1.1 413 "), f"refused: {length.decode()} bytes", got)
    for length in (b"-1", b"1e3", b"0x10", b"", b"99999999999999999999999999"):
        got = served.raw(head + b"Content-Length: " + length + b"\r\n\r\n{}")
        points.point(got == b"" or got[9:12] in (b"400", b"411", b"413"),
                     f"refused: length {length.decode()!r}", got)
    chunked = served.raw(head + b"Transfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n")
    points.point(chunked.startswith(b"HTTP/1.1 411 "), "refused: chunks", chunked)
    answer = served.ask("GET", "/api/jobs", b"{}")
    points.same(answer.status, 400, "refused: a body where there is none")
    big = json.dumps({"text": "#" * 4000000}).encode()
    points.same(served.ask("POST", "/api/tree", big).status, 200, "4 MB of text are read")


def check_paths(points, served):
    tries = [
        "/api/jobs/link.yaml", "/api/jobs/link.yaml/result.json", "/api/jobs/.hidden.yaml",
        "/api/jobs/notes.txt", "/api/beside/notes.txt", "/api/jobs/..", "/api/jobs/../jobs",
        "/api/jobs/../../outside/secret.yaml", "/api/jobs/..%2foutside%2fsecret.yaml",
        "/api/jobs/%2e%2e/outside/secret.yaml", "/api/jobs/%2e%2e%2foutside%2fsecret.yaml",
        "/api/jobs/..%5coutside%5csecret.yaml", "/api/jobs/%252e%252e%252foutside",
        "/api/jobs/secret.yaml%00.yaml", "/api/jobs/%2fetc%2fpasswd", "/api/jobs//etc/passwd",
        "/api/jobs/folder.yaml", "/api/jobs/pipe.yaml", "/api/jobs/pipe.yaml/packet.pdf",
        "/api/jobs/%", "/api/jobs/%f", "/api/jobs/%zz.yaml", "/api/jobs/%ff.yaml", "/api/jobs/",
        "/api/jobs/%0d%0aSet-Cookie:x.yaml", "/api/jobs/" + "a" * 200 + ".yaml",
        "/api/jobs/" + "a/" * 30, "/api/beside/linked/secret.yaml", "/api/beside/../outside/secret.yaml",
        "/api/beside/sub/../../outside/secret.yaml", "/api/beside/sub%2flist.yaml", "/api/beside",
        "/api/beside/", "/api/beside/sub", "/api", "/api/", "/api/other", "/out.html", "/notes.bak",
        "/../eavesmith", "/%2e%2e/eavesmith", "/assets", "/assets/", "/assets/../index.html",
        "/assets/main.js/", "//index.html", "/./index.html",
        f"http://{served.host}/index.html", "index.html", "*",
    ]
    for path in tries:
        got = served.raw(f"GET {path} HTTP/1.1\r\nHost: {served.host}\r\nAuthorization: Bearer "
                         f"{served.token}\r\nConnection: close\r\n\r\n".encode())
        shown = path if len(path) < 60 else path[:57] + "..."
        points.point(got[9:12] in (b"400", b"404") and SECRET.encode() not in got,
                     f"leads nowhere: {shown}", got[:200])
    for path in ("/api/jobs/link.yaml", "/api/jobs/pipe.yaml", "/api/jobs/folder.yaml"):
        answer = served.ask("PUT", path, {"text": "x"}, {"If-None-Match": "*"})
        points.same(answer.status, 409, f"not written through: {path}")
    for name in ("..%2fx.yaml", ".x.yaml", "x.txt", "x.yaml~", "a%2fb.yaml", "x%00.yaml"):
        answer = served.ask("PUT", f"/api/jobs/{name}", {"text": "x"}, {"If-None-Match": "*"})
        points.same(answer.status, 404, f"not written: {name}")
    job = {"text": "eavesmith: 1\nprices: ../outside/secret.yaml\n"}
    served.ask("PUT", "/api/jobs/reach.yaml", job, {"If-None-Match": "*"})
    answer = served.ask("GET", "/api/jobs/reach.yaml")
    points.point(answer.status == 200 and SECRET.encode() not in answer.body,
                 "a job reaches no file outside", answer.body)
    points.same(served.ask("GET", "/api/beside/sub/list.yaml").status, 200, "a folder inside is read")


def check_page(points, served):
    for path, kind in (("/", "text/html; charset=utf-8"), ("/index.html", "text/html; charset=utf-8"),
                       ("/assets/main.js", "text/javascript; charset=utf-8"),
                       ("/heart.wasm", "application/wasm")):
        answer = served.ask("GET", path)
        points.same((answer.status, answer.headers["Content-Type"]), (200, kind), f"page: {path}")
    for path in ("/", "/none.js", "/api/jobs", "/api/none", "/api/jobs/none.yaml"):
        headers = served.ask("GET", path).headers
        points.same((headers["Content-Security-Policy"], headers["X-Content-Type-Options"],
                     headers["Cache-Control"]),
                    (POLICY, "nosniff", "no-store" if path.startswith("/api") else "no-cache"),
                    f"{path} has the headers that guard the page")
    for method, path in (("DELETE", "/api/jobs"), ("POST", "/api/jobs"), ("GET", "/api/solve"),
                         ("PUT", "/"), ("POST", "/index.html"), ("OPTIONS", "/api/jobs"),
                         ("PATCH", "/api/jobs/porch.yaml")):
        answer = served.ask(method, path, {} if method in ("POST", "PUT") else None)
        points.point(answer.status == 405 and answer.headers["Allow"], f"no {method} of {path}",
                     answer.status)
    head = served.ask("HEAD", "/heart.wasm")
    points.same((head.status, head.headers["Content-Length"], head.body), (200, "8", b""), "HEAD")


# ---- broken things ------------------------------------------------------------------------------

def check_broken_http(points, served, rng):
    lines = [b"\r\n\r\n", b"\0" * 100, b"GET\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", b"GET / \r\n\r\n",
             b"\x16\x03\x01\x02\x00\x01\x00", b"GET /" + b"a" * 100000 + b" HTTP/1.1\r\n\r\n",
             b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 20000 + b"\r\n", b"GET / HTTP/1.1\r\nHost\r\n\r\n",
             b"GET / HTTP/1.1\r\n Host: a\r\n\r\n", b"GET / HTTP/1.1\r\nHost: a\nHost: b\r\n\r\n",
             b"GET / HTTP/1.1\r\nHost: " + b"a" * 40000 + b"\r\n\r\n", b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
             b"POST /api/tree HTTP/1.1\r\nContent-Length: 5\r\nContent-Length: 6\r\n\r\n{}"]
    good = (f"POST /api/tree HTTP/1.1\r\nHost: {served.host}\r\nAuthorization: Bearer {served.token}"
            "\r\nContent-Type: application/json\r\nContent-Length: 14\r\n\r\n{\"text\":\"a: 1\"}").encode()
    for _ in range(150):
        bent = bytearray(good)
        for _ in range(rng.randrange(1, 6)):
            at = rng.randrange(len(bent))
            bent[at:at + rng.randrange(0, 4)] = rng.randbytes(rng.randrange(0, 4))
        lines.append(bytes(bent))
    lines += [good[:cut] for cut in range(0, len(good), 11)]
    for line in lines:
        served.raw(line)
    points.point(served.lives() and served.ask("GET", "/api/jobs").status == 200,
                 f"{len(lines)} broken requests do it no harm")


def check_broken_json(points, served, rng):
    for text in ("", "{", "[]", "null", "\"x\"", "{}", "{\"text\": 1}", "{\"text\": \"a\",}", "{'text': 1}",
                 "{\"text\": \"\\ud800\"}", "{\"text\": \"a\", \"text\": \"b\"}", "[" * 5000, "{\"job\": []}",
                 "{\"job\": 1}", "{\"job\": {}, \"prices\": []}", "{\"job\": {}, \"rain\": {}}",
                 "{\"text\": NaN}", "\ufeff{}"):
        for path in ("/api/tree", "/api/solve"):
            answer = served.ask("POST", path, text.encode())
            points.point(answer.status in (400, 422) and answer.code() in ("BAD_JSON", "BAD_JOB"),
                         f"{path} refuses {text[:30]!r}", answer.body)
    whole = json.dumps({"job": EXAMPLES[0].read_text(encoding="utf-8"), "text": "a: [1, {b: c}]"})
    seen = set()
    for number in range(300):
        bent = bytearray(whole.encode())
        for _ in range(rng.randrange(1, 8)):
            at = rng.randrange(len(bent))
            bent[at:at + rng.randrange(0, 5)] = rng.choice(
                [rng.randbytes(2), b"\"", b"{", b"}", b"\\", b"\\n", b"999999", b"\\u0000", b": "])
        path = "/api/tree" if number % 2 else "/api/solve"
        seen.add(served.ask("POST", path, bytes(bent)).status)
    points.point(seen <= {200, 400, 422, 429}, "300 bent bodies are answered plainly", seen)
    seen = set()
    bad = sorted(path for path in (PROJECT / "tests/bad").rglob("*") if path.is_file())
    for path in bad:
        text = path.read_bytes().decode(errors="replace")
        seen.add(served.ask("POST", "/api/solve", {"job": text}).status)
        seen.add(served.ask("POST", "/api/tree", {"text": text}).status)
    points.point(bad and seen <= {200, 400, 422, 429}, f"{len(bad)} bad jobs are answered plainly", seen)


# ---- saving -------------------------------------------------------------------------------------

def check_saving(points, served, jobs):
    path = "/api/jobs/" + quote("Łódź 1½.yaml")
    file = jobs / "Łódź 1½.yaml"
    points.same(served.ask("PUT", path, {"text": "a"}).status, 428, "a save names what it changes")
    first = served.ask("PUT", path, {"text": "eavesmith: 1\njob: one\n"}, {"If-None-Match": "*"})
    if first.status != 201:
        points.point(False, "a new job is made", first.body)
        return
    points.same((first.status, file.read_text(encoding="utf-8"), first.json()["has_before"]),
                (201, "eavesmith: 1\njob: one\n", False), "a new job is made")
    again = served.ask("PUT", path, {"text": "other"}, {"If-None-Match": "*"})
    points.same((again.status, again.json()["disk"]["text"]), (409, "eavesmith: 1\njob: one\n"),
                "a job that is there is not made again")
    file.chmod(0o640)
    tag = {"If-Match": first.headers["ETag"]}
    second = served.ask("PUT", path, {"text": "eavesmith: 1\njob: two\n"}, tag)
    points.same((second.status, file.read_text(encoding="utf-8"),
                 Path(f"{file}~").read_text(encoding="utf-8"), stat.S_IMODE(file.stat().st_mode)),
                (200, "eavesmith: 1\njob: two\n", "eavesmith: 1\njob: one\n", 0o640),
                "a save keeps what stood before, and the file's rights")
    before = served.ask("GET", path + "/before").json()
    points.same(before["text"], "eavesmith: 1\njob: one\n", "what stood before can be asked for")
    repeated = served.ask("PUT", path, {"text": "eavesmith: 1\njob: two\n"}, tag)
    points.same((repeated.status, repeated.headers["ETag"]), (200, second.headers["ETag"]),
                "a save that comes twice is one save")
    stale = served.ask("PUT", path, {"text": "eavesmith: 1\njob: three\n"}, tag)
    points.same((stale.status, stale.code(), stale.json()["disk"]["text"],
                 stale.json()["yours"]["text"], file.read_text(encoding="utf-8")),
                (409, "CONFLICT", "eavesmith: 1\njob: two\n", "eavesmith: 1\njob: three\n",
                 "eavesmith: 1\njob: two\n"), "an old revision is refused with both texts")
    file.write_text("eavesmith: 1\njob: by an editor\n", encoding="utf-8")
    meanwhile = served.ask("PUT", path, {"text": "x"}, {"If-Match": second.headers["ETag"]})
    points.same((meanwhile.status, file.read_text(encoding="utf-8")),
                (409, "eavesmith: 1\njob: by an editor\n"), "an editor's change is not written over")
    file.unlink()
    gone = served.ask("PUT", path, {"text": "x"}, {"If-Match": second.headers["ETag"]})
    points.same((gone.status, "disk" in gone.json(), file.exists()), (409, False, False),
                "a job that was thrown away does not come back by itself")
    for match in ("*", "x", "\"", "\"\"", "W/\"x\"", "\"a\", \"b\""):
        answer = served.ask("PUT", path, {"text": "x"}, {"If-Match": match})
        points.point(answer.status in (409, 428) and not file.exists(), f"If-Match: {match}",
                     answer.status)
    nul = served.ask("PUT", path, {"text": "a\0b"}, {"If-None-Match": "*"})
    points.point(nul.status == 400 and not file.exists(), "a NUL is not saved", nul.status)
    points.same([name for name in os.listdir(jobs) if name.endswith(".part")], [], "no part is left")


def check_many_savers(points, served, jobs):
    """Eight people each add ten lines of their own to one file; none is lost."""
    path = "/api/jobs/lines.yaml"
    served.ask("PUT", path, {"text": "#\n"}, {"If-None-Match": "*"})
    until = time.monotonic() + 60

    def add(name):
        done = 0
        while done < 10 and time.monotonic() < until:
            now = served.ask("GET", path)
            if now.status == 200:
                text = now.json()["text"] + f"# {name} {done}\n"
                done += served.ask("PUT", path, {"text": text},
                                   {"If-Match": now.headers["ETag"]}).status == 200
            else:
                time.sleep(0.05)

    threads = [threading.Thread(target=add, args=(name,)) for name in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    lines = (jobs / "lines.yaml").read_text(encoding="ascii").splitlines()
    wanted = {f"# {name} {number}" for name in range(8) for number in range(10)}
    points.point(len(lines) == 81 and wanted <= set(lines), "many savers lose no line",
                 sorted(wanted - set(lines)))
    before = Path(jobs / "lines.yaml~").read_text(encoding="ascii").splitlines()
    points.same(before, lines[:-1], "what is kept is the save before the last")


def check_editor(points, served, jobs):
    """An editor writes by renaming while others save: none of its texts vanishes unseen. A save adds
    to what it replaces, so the editor must find its own text at the start of the file."""
    path = "/api/jobs/edited.yaml"
    file = jobs / "edited.yaml"
    file.write_text("#\n", encoding="ascii")
    until = time.monotonic() + 2
    saves = []

    def add(name):
        while time.monotonic() < until:
            now = served.ask("GET", path)
            if now.status == 200:
                text = now.json()["text"] + f"# {name}\n"
                saves.append(served.ask("PUT", path, {"text": text},
                                        {"If-Match": now.headers["ETag"]}).status)

    threads = [threading.Thread(target=add, args=(name,)) for name in range(4)]
    for thread in threads:
        thread.start()
    lost = []
    writes = 0
    while time.monotonic() < until:
        writes += 1
        text = f"# editor {writes}\n"
        beside = jobs / "edited.tmp"
        beside.write_text(text, encoding="ascii")
        beside.rename(file)
        tries = 0
        while not file.read_text(encoding="ascii").startswith(text) and tries < 20:
            tries += 1  # a save that came too late is just being taken back
            time.sleep(0.01)
        if tries == 20:
            lost.append((text, file.read_text(encoding="ascii")[:60]))
    for thread in threads:
        thread.join()
    points.point(not lost and writes > 100 and saves and set(saves) <= {200, 409},
                 "no text of an editor is lost while others save", (writes, set(saves), lost[:3]))


# ---- answers ------------------------------------------------------------------------------------

def native(program, *words):
    done = subprocess.run([program, *map(str, words)], stdout=subprocess.PIPE, check=False,
                          stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL,
                          env={**os.environ, "ASAN_OPTIONS": "detect_leaks=0"})
    return done.returncode, done.stdout


def check_marks(points, name, text, answer):
    """Every mark stands where its value or key is written in the text."""
    units = text.encode("utf-16-le")

    def cut(mark):
        return units[2 * mark["from"]:2 * mark["to"]].decode("utf-16-le")

    def find(path):
        node = answer["tree"]
        for step in path.split("/")[1:]:
            step = step.replace("~1", "/").replace("~0", "~")
            node = node[int(step)] if isinstance(node, list) else node[step]
        return node

    wrong = []
    for path, mark in answer["marks"].items():
        value = find(path)
        lines = text.split("\n")
        if isinstance(value, str) and not mark.get("quoted") and cut(mark) != value and \
                " ".join(cut(mark).split()) != " ".join(value.split()):
            wrong.append((path, cut(mark), value))
        if isinstance(value, str) and cut(mark).split("\n")[0] != \
                lines[mark["line"] - 1][mark["column"] - 1:][:len(cut(mark).split("\n")[0])]:
            wrong.append((path, mark, "line and column"))
        key = path.split("/")[-1].replace("~1", "/").replace("~0", "~")
        if "key" in mark and cut(mark["key"]).strip("\"'") != key:
            wrong.append((path, cut(mark["key"])))
    points.point(not wrong and len(answer["marks"]) > 1, f"{name}: {len(answer['marks'])} marks stand "
                 "where it is written", wrong[:5])


def check_answers(points, served, program, jobs, root):
    for job in [jobs / f"{example.parent.name}-{example.name}" for example in EXAMPLES]:
        got = served.ask("GET", f"/api/jobs/{quote(job.name)}").json()
        code, wanted = native(program, "solve", job, "--json")
        body = {"job": got["text"]}
        trees = {}
        answer = served.ask("POST", "/api/tree", {"text": got["text"]}).json()
        check_marks(points, job.name, got["text"], answer)
        _, tree = native(program, "tree", job)
        points.same(answer["tree"], json.loads(tree), f"{job.name}: the tree of the command")
        trees["job"] = answer["tree"]
        for name in ("prices", "rain", "gauge"):
            if name in got:
                body[name] = trees[name] = got[name].get("text")
        if "prices" in got:
            asked = {"text": got["prices"]["text"], "document": "prices"}
            trees["prices"] = served.ask("POST", "/api/tree", asked).json()["tree"]
        points.point(code in (0, 1) and wanted, f"{job.name} is worked out by the command", code)
        for shown, sent in (("text", body), ("tree", trees)):
            answer = served.ask("POST", "/api/solve", sent)
            points.point(answer.status == 200 and answer.body == wanted,
                         f"{job.name}: the same bytes from its {shown}", answer.body[:300])
        papers = root / "papers"
        code, _ = native(program, "packet", job, "-o", papers)
        for name in ("packet.pdf", "pieces.csv", "plan.svg", "result.json"):
            answer = served.ask("GET", f"/api/jobs/{quote(job.name)}/{name}")
            made = (papers / name).read_bytes() if (papers / name).exists() else None
            if made is not None:
                points.point(answer.body == made, f"{job.name}: {name} is the command's",
                             answer.body[:200])
            elif name == "packet.pdf" or code == 0:
                points.point(answer.status in (404, 422), f"{job.name}: no {name}", answer.status)
        shutil.rmtree(papers, ignore_errors=True)
        guide = served.ask("GET", f"/api/jobs/{quote(job.name)}/guide.pdf?download")
        points.point(guide.body.startswith(b"%PDF") and
                     (guide.headers["Content-Disposition"] or "").startswith("attachment"),
                     f"{job.name}: the guide, to keep", guide.status)


def check_findings(points, served):
    text = "eavesmith: 1\njob: Pörch 😀\nunits: ft-in\nruns:\n  - {name: porch, lenght: 4'}\n"
    for shown, job in (("text", text), ("tree", served.ask("POST", "/api/tree",
                                                           {"text": text}).json()["tree"])):
        answer = served.ask("POST", "/api/solve", {"job": job})
        issues = answer.json()["issues"]
        found = [issue for issue in issues if issue.get("path") == "/runs/0/lenght"]
        points.point(answer.status == 422 and found and found[0]["severity"] == "stop" and
                     found[0]["text"] and found[0]["mend"], f"a {shown} with a wrong key is told so",
                     answer.body)
        place = [text[issue["from"] - 1:issue["to"] - 1] for issue in found if "from" in issue]
        points.same(place, ["lenght"] if shown == "text" else [],
                    f"the place of it in a {shown}")  # the smiling face counts two in UTF-16
    broken = served.ask("POST", "/api/tree", {"text": "a: [1, 2\nb: 3\n"}).json()
    points.point("tree" not in broken and broken["marks"] == {} and broken["issues"][0]["line"] == 1,
                 "a text that cannot be read has its place", broken)
    left_out = served.ask("POST", "/api/tree", {"text": "size:\nb: \"x\"\n"}).json()["marks"]
    points.same((left_out["/size"]["from"], left_out["/size"]["to"], left_out["/b"]["quoted"]),
                (5, 5, True), "a value left out has a place to be written at")
    listed = served.ask("GET", "/api/jobs").json()
    names = [job["name"] for job in listed["jobs"]]
    points.point(names == sorted(names, key=lambda name: name.encode()) and "link.yaml" not in names
                 and not any("prices" in name for name in names)
                 and all(job["state"] in ("fine", "not safe", "bad", "not asked")
                         for job in listed["jobs"]), "the list holds the jobs", names)


# ---- many and slow ------------------------------------------------------------------------------

class Slow(threading.Thread):
    """Sends a byte now and then, or nothing more; how long the server put up with it."""

    def __init__(self, served, data, pause):
        super().__init__(daemon=True)
        self.served, self.data, self.pause, self.seconds = served, data, pause, None
        self.start()

    def run(self):
        start = time.monotonic()
        with socket.create_connection(("127.0.0.1", self.served.port), timeout=120) as line:
            line.settimeout(self.pause)
            try:
                for at in range(len(self.data)):
                    line.send(self.data[at:at + 1])
                    try:
                        if line.recv(1000) == b"":
                            break
                    except socket.timeout:
                        pass
            except OSError:
                pass
            self.seconds = time.monotonic() - start


def slow_ones(served, long):
    head = f"POST /api/tree HTTP/1.1\r\nHost: {served.host}\r\n".encode()
    whole = head + (f"Authorization: Bearer {served.token}\r\nContent-Type: application/json\r\n"
                    "Content-Length: 100000\r\n\r\n").encode()

    def silent(data):
        return Slow(served, data, 60)

    ones = [silent(b"G"), silent(b"P")]
    if long:
        ones += [Slow(served, head + b"X: " + b"a" * 1000, 1), Slow(served, b"a" * 1000, 1)]
        body = Slow(served, whole + b"a" * 1000, 0.12)
        ones.append(body)
    return ones


def check_slow(points, ones):
    for one in ones:
        one.join(70)
        points.point(one.seconds is not None and one.seconds < 45,
                     f"a sender of {one.data[:1]!r} every {one.pause} s is sent away", one.seconds)


def check_crowd(points, served, jobs, seconds, seed):
    """Twenty at once; statuses and memory on the way."""
    names = [quote(path.name) for path in sorted(jobs.glob("*.yaml")) if path.is_file()]
    text = EXAMPLES[0].read_text(encoding="utf-8")
    until = time.monotonic() + seconds
    seen, errors = {}, []
    lock = threading.Lock()

    def act(number):
        rng = random.Random(seed + number)
        while time.monotonic() < until:
            name = rng.choice(names)
            try:
                kind = rng.randrange(10)
                if kind < 3:
                    answer = served.ask("GET", f"/api/jobs/{name}")
                elif kind < 5:
                    answer = served.ask("POST", "/api/solve", {"job": text})
                elif kind < 6:
                    answer = served.ask("POST", "/api/tree", {"text": text})
                elif kind < 7:
                    answer = served.ask("GET", f"/api/jobs/{name}/packet.pdf")
                elif kind < 8:
                    own = f"/api/jobs/crowd-{number % 4}.yaml"
                    now = served.ask("GET", own).headers["ETag"]
                    tag = {"If-Match": now} if now else {"If-None-Match": "*"}
                    answer = served.ask("PUT", own, {"text": f"eavesmith: 1\n# {rng.random()}\n"}, tag)
                elif kind < 9:
                    answer = served.ask("GET", "/api/jobs")
                else:
                    served.raw(rng.randbytes(200), timeout=1)
                    continue
                with lock:
                    seen[answer.status] = seen.get(answer.status, 0) + 1
                if answer.status == 429:
                    time.sleep(0.02)
            except OSError as error:
                with lock:
                    errors.append(repr(error))

    threads = [threading.Thread(target=act, args=(number,)) for number in range(20)]
    for thread in threads:
        thread.start()
    time.sleep(seconds * 0.5)
    half = served.memory_kb() if served.lives() else 0
    for thread in threads:
        thread.join()
    points.point(served.lives(), f"20 clients for {seconds} s: it lives")
    points.point(set(seen) <= {200, 201, 404, 409, 422, 429} and seen.get(200, 0) >= 20,
                 f"20 clients for {seconds} s are answered", seen)
    points.point(len(errors) <= sum(seen.values()) / 100, "hardly a connection is refused",
                 errors[:5])
    end = served.memory_kb() if served.lives() else 0
    points.point(0 < end < half + 65536 and end < 700000, "memory stays where it was", (half, end))
    print(f"# say: {sum(seen.values())} answers in {seconds} s, {half // 1024} MB then {end // 1024} MB; "
          f"{dict(sorted(seen.items()))}", flush=True)


def check_budget(points, served):
    many = [served.ask_once("GET", "/api/jobs/none.yaml/packet.pdf", None, {}, True)
            for _ in range(200)]
    points.same({answer.status for answer in many}, {404, 429}, "who asks too much is told to wait")
    points.same({answer.headers["Retry-After"] for answer in many if answer.status == 429}, {"1"},
                "and for how long")


def check_hoard(points, served):
    lines = [socket.create_connection(("127.0.0.1", served.port), timeout=2) for _ in range(100)]
    for line in lines:
        line.close()
    time.sleep(0.5)
    points.same(served.ask("GET", "/api/jobs/order-order.yaml").status, 200,
                "a hundred idle connections are got over")


def check_end(points, served, how, open_line=True):
    line = socket.create_connection(("127.0.0.1", served.port), timeout=5) if open_line else None
    code, errors = served.end(how)
    if line:
        line.close()
    points.same(code, 0, f"{signal.Signals(how).name} ends it with exit 0")
    points.point(not re.search("Sanitizer|runtime error", errors), "nothing was leaked or overrun",
                 errors)


def check_command(points, program, root, served):
    for words, wanted in ((["serve"], 2), (["serve", root / "none"], 2), (["serve", program], 2),
                          (["serve", root, "--port", "70000"], 2), (["serve", root, "--port"], 2),
                          (["serve", root, "--port", str(served.port)], 2), (["serve", "--help"], 0),
                          (["help", "serve"], 0), (["help", "nothing"], 2), (["help"], 0)):
        code, out = native(program, *words)
        points.point(code == wanted and bool(out) == (wanted == 0),
                     f"exit {wanted}: {' '.join(Path(str(word)).name for word in words)}", (code, out))


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("program")
    parser.add_argument("--long", action="store_true")
    parser.add_argument("--seed", type=int, default=20261125)
    given = parser.parse_args()
    rng = random.Random(given.seed)
    points = Points()
    with tempfile.TemporaryDirectory() as name:
        root = Path(name)
        jobs = make_folder(root)
        (root / "bin").mkdir()
        program = make_program(root, given.program)
        served = Served(program, jobs)
        try:
            slow = slow_ones(served, given.long)
            check_start(points, served)
            check_places(points, served)
            check_bodies(points, served)
            check_paths(points, served)
            check_page(points, served)
            check_answers(points, served, program, jobs, root)
            check_findings(points, served)
            check_broken_http(points, served, rng)
            check_broken_json(points, served, rng)
            check_saving(points, served, jobs)
            check_many_savers(points, served, jobs)
            check_editor(points, served, jobs)
            check_crowd(points, served, jobs, 60 if given.long else 5, given.seed)
            check_hoard(points, served)
            check_budget(points, served)
            check_slow(points, slow)
            check_command(points, program, root, served)
            check_strangers(points, served)
        finally:
            check_end(points, served, signal.SIGINT)
        bare = Served(given.program, jobs)
        if not (Path(given.program).parent / "page").exists():
            answer = bare.ask("GET", "/")
            points.point(answer.status == 404 and b"not built" in answer.body,
                         "without a page it says so", answer.body)
        check_end(points, bare, signal.SIGTERM, open_line=False)
    print(f"1..{points.count}")
    return 1 if points.failed else 0


if __name__ == "__main__":
    sys.exit(main())
