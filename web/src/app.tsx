// SPDX-License-Identifier: Apache-2.0
// The folder's jobs, and one of them opened. The address says which: #house/porch.yaml.
import { useEffect, useState } from "preact/hooks";
import { type JobFile, type JobFolder, listJobs, readJob, serverStore } from "./api";
import { carriedHeart, carriedStore, findCarried } from "./carry";
import type { Doc } from "./doc";
import { money } from "./figures";
import { Job, type Room } from "./job";
import { Keys, KeysButton } from "./keys";
import { NewJob } from "./new_job";
import { readDoc, startHeartFrom } from "./solver";
import { stationNames } from "./stations";
import { DisplaySwitch } from "./switches";
import { texts } from "./texts";

const ROOMS: Room[] = [...stationNames, "walk", "bench"];

function useRoom(): [Room, string] {
  const read = (): [Room, string] => {
    const [room = "", name = ""] = location.hash.slice(1).split("/");
    return [ROOMS.find((one) => one === room) ?? "house", decodeURIComponent(name)];
  };
  const [place, setPlace] = useState(read);
  useEffect(() => {
    const look = () => setPlace((old) => (read()[1] === "" ? [read()[0], old[1]] : read()));
    addEventListener("hashchange", look);
    look(); // it may have changed before anybody listened
    return () => removeEventListener("hashchange", look);
  }, []);
  return place;
}

function JobList({ folder, jobs, beside, onMade }: JobFolder & { onMade: (file: string) => void }) {
  return (
    <>
      <header class="head list-head">
        <h1>{texts.jobs}</h1>
        <span class="quiet">{texts.folder(folder)}</span>
        <span class="grow" />
        <DisplaySwitch />
        <KeysButton />
      </header>
      <main>
        {jobs.length === 0 && <p class="panel">{texts.noJobs}</p>}
        <ul class="jobs">
          {jobs.map((job) => (
            <li key={job.name}>
              <a href={`#house/${encodeURIComponent(job.name)}`} class="panel">
                <strong>{job.job || job.name}</strong>
                <span class="quiet">{[job.job ? job.name : "", job.customer].filter(Boolean).join(" · ")}</span>
                <span class="grow" />
                <span>{texts.jobStates[job.state] ?? job.state}</span>
                {job.total_minor !== undefined && <strong>{money(job.currency ?? "", job.total_minor)}</strong>}
              </a>
            </li>
          ))}
        </ul>
        <NewJob jobs={jobs} beside={beside.map((file) => file.name)} onMade={onMade} />
      </main>
    </>
  );
}

function ServedApp() {
  const [room, name] = useRoom();
  const [list, setList] = useState<JobFolder>();
  const [opened, setOpened] = useState<{ file: JobFile; first: Doc }>();
  const [fault, setFault] = useState("");
  const showsList = location.hash === "" || location.hash === "#jobs";
  useEffect(() => {
    listJobs().then(setList, () => setFault(texts.noAnswer));
  }, [showsList]);
  const open = showsList ? "" : name;
  const made = (file: string) => {
    void listJobs().then(setList); // it has a currency now
    location.hash = `#house/${encodeURIComponent(file)}`;
  };
  useEffect(() => {
    if (open === "") return;
    setOpened(undefined);
    readJob(open)
      .then(async (file) => setOpened({ file, first: await readDoc(serverStore, file.text ?? "") }))
      .catch((error) => setFault(String(error)));
  }, [open]);
  if (fault !== "") return <p class="panel fault">{fault}</p>;
  if (open === "") return list === undefined ? <p class="panel">{texts.loading}</p> : <JobList {...list} onMade={made} />;
  if (opened === undefined || list === undefined) return <p class="panel">{texts.loading}</p>;
  const currency = list.jobs.find((job) => job.name === opened.file.name)?.currency ?? "USD";
  return <Job key={opened.file.name} store={serverStore} {...opened} currency={currency} room={room} carried={undefined} />;
}

export function App() {
  return (
    <>
      <Opened />
      <Keys />
    </>
  );
}

function Opened() {
  const [carried] = useState(() => {
    const found = findCarried();
    if (found !== undefined) void startHeartFrom(carriedHeart());
    return found;
  });
  const [room] = useRoom();
  if (carried === undefined) return <ServedApp />;
  return <Job store={carriedStore(carried)} file={carried.file} first={carried.doc} currency={carried.currency} room={room} carried={carried} />;
}
