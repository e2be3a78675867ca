// SPDX-License-Identifier: Apache-2.0
// The routes of the server (docs/server.md).
import type { Marks, Tree } from "./doc";
import type { Finding } from "./result";

export interface JobLine {
  name: string;
  job?: string;
  customer?: string;
  state: string;
  issues: number;
  total_minor?: number;
  currency?: string;
}
export interface Beside {
  name: string;
  text?: string;
}
export interface JobFile {
  name: string;
  revision: string;
  text?: string;
  prices?: Beside;
  rain?: Beside;
  gauge?: Beside;
}
export interface TreeAnswer {
  tree?: Tree;
  marks: Marks;
  issues: Finding[];
}
export interface Conflict {
  disk?: { revision: string; text: string };
}

/** Where a job is kept: the server's folder, or the one file that was carried to the house. */
export interface Store {
  carried: boolean;
  read(text: string, document: "job" | "prices"): Promise<TreeAnswer>;
  save(name: string, revision: string, text: string): Promise<{ revision: string } | Conflict>;
}

const JSON_TYPE = { "Content-Type": "application/json" };

async function answerOf<T>(request: Promise<Response>): Promise<T> {
  const response = await request;
  const body = await response.json();
  if (!response.ok) throw new Error(body?.error?.text ?? `${response.status}`);
  return body as T;
}

const address = (name: string) => `/api/jobs/${encodeURIComponent(name)}`;

export interface JobFolder {
  folder: string;
  jobs: JobLine[];
  beside: { name: string }[];
}
export const listJobs = () => answerOf<JobFolder>(fetch("/api/jobs"));
export const readJob = (name: string) => answerOf<JobFile>(fetch(address(name)));
export const paper = (name: string, file: string) => `${address(name)}/${file}`;

/** Never over a file that is there. */
export const makeJob = (name: string, text: string) =>
  answerOf<{ revision: string }>(
    fetch(address(name), { method: "PUT", headers: { ...JSON_TYPE, "If-None-Match": "*" }, body: JSON.stringify({ text }) }),
  );

export const readTree = (text: string, document: "job" | "prices") =>
  answerOf<TreeAnswer>(
    fetch("/api/tree", { method: "POST", headers: JSON_TYPE, body: JSON.stringify({ text, document }) }),
  );

export async function solveThere(body: { job: string; prices?: string; rain?: string; gauge?: string }) {
  const response = await fetch("/api/solve", { method: "POST", headers: JSON_TYPE, body: JSON.stringify(body) });
  return { good: response.ok, body: await response.json() };
}

/** The new revision, or what stands on the disk when someone else was first. */
export async function saveJob(name: string, revision: string, text: string): Promise<{ revision: string } | Conflict> {
  const headers = { ...JSON_TYPE, "If-Match": `"${revision}"` };
  const response = await fetch(address(name), { method: "PUT", headers, body: JSON.stringify({ text }) });
  const body = await response.json();
  if (response.status === 409) return { disk: body.disk };
  if (!response.ok) throw new Error(body?.error?.text ?? `${response.status}`);
  return { revision: body.revision };
}

export const serverStore: Store = { carried: false, read: readTree, save: saveJob };
