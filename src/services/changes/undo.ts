/**
 * Taking a change back: every part that it wrote becomes what it was before, if it still is what the change made of it
 * and the company without the change has no fault.
 */
import { formatFault, parseCompany } from "../../domain/company-file.js";
import { onlyKey, toSource, type Part, type Source } from "../../domain/company-parts.js";
import { COMPANY_FORMAT } from "../../domain/company-schema.js";
import { isSameJson } from "../../domain/json-equality.js";
import { fail, ok, type Result } from "../../domain/result.js";
import type { StoredCompany } from "../../store/company-store.js";
import type { Queries } from "../../store/database.js";
import { RELEASE_KINDS } from "../../store/publication-store.js";
import { findReportOfChange, listReportsSince } from "../../store/site-report-store.js";
import {
  applyStates,
  findChange,
  keysOf,
  listTouching,
  type RecordedChange,
} from "../../store/record-store.js";
import type { ChangeFailure } from "./company-change.js";
import { entriesIn } from "./source-edit.js";

/** The company without a change, and the sentence for the record; or why it stays. */
export async function decideUndo(
  stored: StoredCompany,
  version: number,
  queries: Queries,
): Promise<Result<{ readonly source: Source; readonly sentence: string }, ChangeFailure>> {
  const change = await findChange(queries, version);
  if (change === undefined) return refuse("no-such-change", `There is no change ${version} on record.`);
  if (change.undoneBy !== null) {
    return refuse("already-undone", "This change has already been taken back, so nothing was done.");
  }
  const parts = new Map<string, Part>(stored.parts);
  const isAsMade = Object.entries(change.after).every(([key, state]) =>
    isSameJson(parts.get(key)?.body, state?.body),
  );
  if (!isAsMade) {
    const later = await listTouching(queries, keysOf(change), version);
    const named = later.findLast(({ undoneBy, undoes }) => undoneBy === null && undoes === null);
    return refuse(
      "depended-on",
      "This change cannot be taken back: what it wrote has been changed since" +
        (named === undefined ? "." : ` (by ${named.personName}: ${named.sentence}) Take that back first.`),
    );
  }
  const report = await findReportOn(queries, change);
  if (report !== undefined) {
    return refuse(
      "depended-on",
      `This change cannot be taken back: ${report.what} (by ${report.by.personName}: ` +
        `${report.by.sentence}) Take that back first${report.isPublished ? ", or publish another plan" : ""}.`,
    );
  }
  applyStates(parts, change.before);
  const source = toSource(parts.values(), COMPANY_FORMAT);
  if (source === undefined) {
    return refuse("first-load", "The first company file cannot be taken back. Load another one instead.");
  }
  const parsed = parseCompany(source);
  if (!parsed.ok) {
    const faults = parsed.error.map(formatFault).join(" ");
    return refuse(
      "depended-on",
      `This change cannot be taken back, because something later depends on it: ${faults}`,
    );
  }
  return ok({ source, sentence: `Taken back: ${change.sentence}` });
}

/** A change or a report from site that says what has been done, and what of this change it is about. */
interface ReportOn {
  readonly by: Pick<RecordedChange, "personName" | "sentence">;
  /** "work that it added has been reported on since". */
  readonly what: string;
  readonly isPublished: boolean;
}

async function findReportOn(queries: Queries, change: RecordedChange): Promise<ReportOn | undefined> {
  const moved = await findReportOnMoved(queries, change);
  if (moved !== undefined) {
    return { by: moved, what: "work that it moved has been reported on since", isPublished: true };
  }
  const added = await findSaidOf(queries, change.version, listTasksAdded(change));
  if (added !== undefined) {
    return { by: added, what: "work that it added has been reported on since", isPublished: false };
  }
  const same = await findSaidAgain(queries, change.version);
  return same && { by: same, what: "the same has been said again since", isPublished: false };
}

/** A later report that stands and had nothing left to change, because the report that this change is had said it. */
async function findSaidAgain(queries: Queries, version: number): Promise<RecordedChange | undefined> {
  const first = await findReportOfChange(queries, version);
  if (first === undefined || first.jobId === null) return undefined;
  const later = await listReportsSince(queries, version, [`${first.jobId}/${first.taskId}`]);
  const again = later.filter(({ applied, body }) => applied && body.kind === first.body.kind);
  const changes = await Promise.all(again.map((report) => findChange(queries, report.version)));
  return changes.findLast((change) => change !== undefined && keysOf(change).length === 0);
}

/** The last that a crew has said from site of one of these tasks, as it stands on record. */
async function findSaidOf(
  queries: Queries,
  version: number,
  tasks: readonly string[],
): Promise<RecordedChange | undefined> {
  if (tasks.length === 0) return undefined;
  const last = (await listReportsSince(queries, version, tasks)).at(-1);
  return last && findChange(queries, last.version);
}

/** `house/task` of what a change brought in; a whole company that was loaded is no work that somebody added. */
function listTasksAdded({ kind, before, after }: RecordedChange): readonly string[] {
  if (kind === "company-loaded" || kind === "restored") return [];
  return Object.keys(after).flatMap((key) =>
    key.startsWith("task/") && before[key] === null && after[key] !== null ? [key.slice("task/".length)] : [],
  );
}

/** What a crew has done by then it did on the day that was published, whatever is taken back. */
async function findReportOnMoved(
  queries: Queries,
  change: RecordedChange,
): Promise<RecordedChange | undefined> {
  const key = onlyKey("published");
  if (RELEASES.has(change.kind) || !(key in change.after)) return undefined;
  const [before, after] = [change.before[key]?.body, change.after[key]?.body];
  const moved = listTasksMoved(before, after);
  if (moved.length === 0) return undefined;
  const said = await findSaidOf(queries, change.version, moved);
  if (said !== undefined) return said;
  const tasks = moved.map((task): string => `task/${task}`);
  const later = await listTouching(queries, tasks, change.version);
  return later.findLast(({ kind, undoneBy }) => REPORTS.has(kind) && undoneBy === null);
}

/** Changes of the office that say what has been done at a house. */
const REPORTS: ReadonlySet<string> = new Set(["task-progress"]);
const RELEASES: ReadonlySet<string> = new Set(RELEASE_KINDS);

/** `job/task` of work whose published crew-days are no longer the same. */
function listTasksMoved(before: unknown, after: unknown): readonly string[] {
  const [old, now] = [listDaysByTask(before), listDaysByTask(after)];
  return [...new Set([...old.keys(), ...now.keys()])].filter((task) => old.get(task) !== now.get(task));
}

/** Of each task its crews and dates, as one text; dates as written, which is by the clock of the house. */
function listDaysByTask(published: unknown): ReadonlyMap<string, string> {
  const days = new Map<string, Set<string>>();
  for (const block of entriesIn(published)) {
    if (!isWork(block)) continue;
    const task = `${block.job}/${block.task}`;
    days.set(task, (days.get(task) ?? new Set()).add(`${block.crew} ${block.start.slice(0, 10)}`));
  }
  return new Map([...days].map(([task, set]) => [task, [...set].sort().join()]));
}

interface WorkEntry {
  readonly crew: string;
  readonly job: string;
  readonly task: string;
  readonly start: string;
}

function isWork(block: unknown): block is WorkEntry {
  if (typeof block !== "object" || block === null) return false;
  return (
    "kind" in block &&
    block.kind === "work" &&
    "crew" in block &&
    typeof block.crew === "string" &&
    "job" in block &&
    typeof block.job === "string" &&
    "task" in block &&
    typeof block.task === "string" &&
    "start" in block &&
    typeof block.start === "string"
  );
}

function refuse(kind: string, sentence: string): Result<never, ChangeFailure> {
  return fail({ kind: "refused", refusal: { kind, sentence } });
}
