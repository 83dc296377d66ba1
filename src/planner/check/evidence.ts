/**
 * A company and a plan side by side, with the plan's texts turned into minutes and its ids into the things they name.
 * What cannot be read is reported under "format", and then nothing else is checked: the rest would be guesswork.
 */
import {
  zoneOfJob,
  type BlockKind,
  type Company,
  type Crew,
  type Job,
  type Task,
  type Trade,
} from "../../domain/company-schema.js";
import type { Plan } from "../../domain/plan-format.js";
import { fail, ok, present, type Result } from "../../domain/result.js";
import { formatAt, parseCivilDate, parseInstant, type Interval, type Minute } from "../../domain/time.js";
import type { DayLight } from "../../daylight/light.js";
import type { BrokenRule } from "./broken-rule.js";

/** A task of the company file with its house; `key` is unique in the company. */
export interface TaskFact {
  readonly key: string;
  readonly job: Job;
  readonly task: Task;
  readonly zone: string;
  /** Null for a wait. */
  readonly trade: Trade | null;
}

export interface BlockFact extends Interval {
  readonly crew: Crew;
  readonly kind: BlockKind;
  readonly job: Job | null;
  readonly task: TaskFact | null;
  readonly units: readonly [number, number] | null;
}

export interface WorkFact extends BlockFact {
  readonly kind: "work";
  readonly job: Job;
  readonly task: TaskFact;
}

/** What the plan says of a task as a whole. */
export interface EntryFact extends Interval {
  readonly fact: TaskFact;
  readonly crew: Crew | null;
}

export interface Evidence {
  readonly company: Company;
  readonly plan: Plan;
  /** The company's zone: crew-days are its dates. */
  readonly zone: string;
  readonly asOf: Minute;
  /** Every task of the file, by key. */
  readonly tasks: ReadonlyMap<string, TaskFact>;
  /** By crew, then by time. */
  readonly blocks: readonly BlockFact[];
  /** The work of each task in order of time, by key. */
  readonly work: ReadonlyMap<string, readonly WorkFact[]>;
  /** In the plan's own order; a task may be there twice, which is for rule 12 to say. */
  readonly entries: readonly EntryFact[];
  readonly entryOf: ReadonlyMap<string, EntryFact>;
  readonly impossible: ReadonlySet<string>;
  /** Light by house and date, so that the sun is asked once. */
  readonly lights: Map<string, DayLight>;
}

export const keyOf = (jobId: string, taskId: string): string => `${jobId}/${taskId}`;

export const isWork = (block: BlockFact): block is WorkFact =>
  block.kind === "work" && block.job !== null && block.task !== null;

export const workOf = (evidence: Evidence, key: string): readonly WorkFact[] => evidence.work.get(key) ?? [];

/** A time as the checker says it: "Tue 16 Mar 07:20". */
export const sayTime = (minute: Minute, zone: string): string =>
  formatAt(minute, zone, "ccc d LLL HH:mm", "en");

export const saySpan = ({ start, end }: Interval, zone: string): string =>
  `${sayTime(start, zone)} to ${formatAt(end, zone, "HH:mm", "en")}`;

/** `"Strip the front" (t1) at Spruce 14`. */
export const sayTask = (fact: TaskFact): string =>
  `"${fact.task.title}" (${fact.task.id}) at ${fact.job.name}`;

export const idsOf = (fact: TaskFact): { job: string; task: string } => ({
  job: fact.job.id,
  task: fact.task.id,
});

/** The evidence, or every place at which the plan cannot be read. */
export function readEvidence(company: Company, plan: Plan): Result<Evidence, readonly BrokenRule[]> {
  const zone = company.company.timeZone;
  const faults: BrokenRule[] = [];
  const note = (sentence: string) => faults.push({ rule: "format", sentence });
  const crews = new Map(company.crews.map((crew) => [crew.id, crew]));
  const jobs = new Map(company.jobs.map((job) => [job.id, job]));
  const tasks = listTasks(company);

  const readTime = (text: string, where: string): Minute => {
    const minute = /(Z|[+-]\d{2}:\d{2})$/.test(text) ? parseInstant(text, zone) : undefined;
    if (minute === undefined) note(`${where} is "${text}", which is no time with an offset.`);
    return minute ?? 0;
  };
  const readCrew = (id: string, where: string): Crew | null => {
    const crew = crews.get(id) ?? null;
    if (crew === null) note(`${where} names crew "${id}", which the company file does not have.`);
    return crew;
  };
  const readTask = (jobId: string | null, taskId: string, where: string): TaskFact | null => {
    const fact = tasks.get(keyOf(jobId ?? "", taskId)) ?? null;
    if (fact === null)
      note(`${where} names task "${taskId}" of job "${jobId ?? ""}", which the company file does not have.`);
    return fact;
  };

  const asOf = readTime(plan.asOf, "asOf");
  const blocks: BlockFact[] = [];
  for (const [index, block] of plan.blocks.entries()) {
    const where = `Block ${index + 1} (${block.kind} of crew ${block.crew})`;
    const crew = readCrew(block.crew, where);
    const job = block.job === null ? null : (jobs.get(block.job) ?? null);
    if (block.job !== null && job === null)
      note(`${where} names job "${block.job}", which the company file does not have.`);
    const task = block.task === null ? null : readTask(block.job, block.task, where);
    const start = readTime(block.start, `${where}: its start`);
    const end = readTime(block.end, `${where}: its end`);
    if (block.kind === "work" && (block.job === null || block.task === null))
      note(`${where} does not say which job and task is worked on.`);
    if (NEEDS_JOB.has(block.kind) && block.job === null) note(`${where} does not say at which house.`);
    if (block.units !== null && block.units[0] > block.units[1])
      note(`${where} has its units in the wrong order (${block.units.join(" to ")}).`);
    if (task !== null && task.trade === null)
      note(`${where} is work on ${sayTask(task)}, which is a wait and needs no crew.`);
    if (end <= start) note(`${where} ends at ${block.end}, not after its start ${block.start}.`);
    else if (start < asOf) note(`${where} starts at ${block.start}, before the plan begins (${plan.asOf}).`);
    if (crew !== null) blocks.push({ crew, kind: block.kind, job, task, units: block.units, start, end });
  }
  const entries: EntryFact[] = [];
  for (const entry of plan.tasks) {
    const where = `The plan's entry for task "${entry.task}" of job "${entry.job}"`;
    const fact = readTask(entry.job, entry.task, where);
    const crew = entry.crew === null ? null : readCrew(entry.crew, where);
    const start = readTime(entry.start, `${where}: its start`);
    const end = readTime(entry.end, `${where}: its end`);
    if (end < start) note(`${where} ends at ${entry.end}, before its start ${entry.start}.`);
    if (fact !== null) entries.push({ fact, crew, start, end });
  }
  for (const item of plan.impossible) readTask(item.job, item.task, "The list of impossible tasks");
  for (const day of plan.days) {
    readCrew(day.crew, `The day ${day.date}`);
    if (!jobs.has(day.job))
      note(`The day ${day.date} names job "${day.job}", which the company file does not have.`);
    if (parseCivilDate(day.date) === undefined) note(`"${day.date}" in days is no date.`);
    for (const text of [day.firstLight, day.lastLight, day.toolsDown]) {
      if (text !== null) readTime(text, `A time of day ${day.date} for crew ${day.crew}`);
    }
  }
  for (const item of plan.unkept) {
    if (parseCivilDate(item.date) === undefined) note(`"${item.date}" in unkept is no date.`);
  }
  if (faults.length > 0) return fail(faults);

  blocks.sort((a, b) => a.crew.id.localeCompare(b.crew.id) || a.start - b.start || a.end - b.end);
  const work = new Map<string, WorkFact[]>();
  for (const block of [...blocks].sort((a, b) => a.start - b.start)) {
    if (isWork(block)) work.set(block.task.key, [...(work.get(block.task.key) ?? []), block]);
  }
  return ok({
    company,
    plan,
    zone,
    asOf,
    tasks,
    blocks,
    work,
    entries,
    entryOf: new Map(entries.map((entry) => [entry.fact.key, entry])),
    impossible: new Set(plan.impossible.map((item) => keyOf(item.job, item.task))),
    lights: new Map(),
  });
}

const NEEDS_JOB: ReadonlySet<BlockKind> = new Set<BlockKind>(["setup", "cover-up", "cleanup"]);

function listTasks(company: Company): Map<string, TaskFact> {
  const trades = new Map(company.trades.map((trade) => [trade.id, trade]));
  const tasks = new Map<string, TaskFact>();
  for (const job of company.jobs) {
    for (const task of job.tasks) {
      const trade = task.trade === null ? null : present(trades.get(task.trade), `trade ${task.trade}`);
      const key = keyOf(job.id, task.id);
      tasks.set(key, { key, job, task, zone: zoneOfJob(company, job), trade });
    }
  }
  return tasks;
}
