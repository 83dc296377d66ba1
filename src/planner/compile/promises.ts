/**
 * Past and promise (rule 11): what is under way or stands open comes first; published blocks inside the freeze keep
 * their crew and day.
 */
import type { Company, Job, PublishedBlock, Task } from "../../domain/company-schema.js";
import { zoneOfJob } from "../../domain/company-schema.js";
import {
  addDays,
  civilDateAt,
  dayStart,
  parseInstant,
  type CivilDate,
  type Minute,
} from "../../domain/time.js";

/** A published block that must keep its crew and day. */
export interface PublishedPromise {
  readonly job: string;
  readonly task: string;
  readonly crew: string;
  readonly date: CivilDate;
  readonly start: Minute;
}

/** The promises that bind at `asOf`, in order of time. */
export function listPromises(company: Company, asOf: Minute): readonly PublishedPromise[] {
  const zone = company.company.timeZone;
  const freezeEnd = dayStart(addDays(civilDateAt(asOf, zone), company.policy.freezeDays + 1), zone);
  const jobs = new Map(company.jobs.map((job) => [job.id, job]));
  const promises = (company.published ?? []).flatMap((block) => {
    const facts = findWork(jobs, block);
    if (!facts || block.released || facts.task.status === "done") return [];
    const zoneOfBlock = zoneOfJob(company, facts.job);
    const start = parseInstant(block.start, zoneOfBlock) ?? 0;
    if (start >= freezeEnd) return [];
    const end = parseInstant(block.end, zoneOfBlock) ?? 0;
    if (end <= asOf) return [];
    return [
      { job: facts.job.id, task: facts.task.id, crew: block.crew, date: civilDateAt(start, zone), start },
    ];
  });
  return promises.sort((a, b) => a.start - b.start);
}

function findWork(
  jobs: ReadonlyMap<string, Job>,
  block: PublishedBlock,
): { job: Job; task: Task } | undefined {
  if (block.kind !== "work") return undefined;
  const job = jobs.get(block.job ?? "");
  const task = job?.tasks.find((known) => known.id === block.task);
  return job && task ? { job, task } : undefined;
}

/** When a task under way was begun; the plan's start where nobody wrote it down. */
export function beganAt(company: Company, job: Job, task: Task, asOf: Minute): Minute {
  const began = task.startedAt === null ? undefined : parseInstant(task.startedAt, zoneOfJob(company, job));
  return Math.min(began ?? asOf, asOf);
}
