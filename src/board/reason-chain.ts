/**
 * Why a task starts when it does, followed from reason to reason, across houses, to the root of it all.
 * Each link is a task with the reason that binds it; the next link is the task which that reason names.
 */
import { zoneOfJob } from "../domain/company-schema.js";
import type { BecauseKind } from "../domain/plan-format.js";
import type { Reading } from "./reading.js";
import { dayAndClock } from "./spoken-time.js";

export interface ReasonLink {
  readonly jobId: string;
  readonly jobName: string;
  readonly taskTitle: string;
  /** Who does it; "no crew" for a wait. */
  readonly crewName: string;
  readonly starts: string;
  readonly why: string;
  readonly kind: BecauseKind;
  /** Whether it happens at another house than the link before. */
  readonly isElsewhere: boolean;
}

/** The links from a task to its root, the task itself first; empty for a task that is in no plan. */
export function followReasons(reading: Reading, jobId: string, taskId: string): readonly ReasonLink[] {
  const links: ReasonLink[] = [];
  const seen = new Set<string>();
  let ref: { readonly job: string; readonly task: string } | null = { job: jobId, task: taskId };
  while (ref !== null && !seen.has(`${ref.job}\n${ref.task}`)) {
    seen.add(`${ref.job}\n${ref.task}`);
    const job = reading.jobs.get(ref.job);
    const task = reading.task(ref.job, ref.task);
    const planned = reading.planned(ref.job, ref.task);
    if (job === undefined || task === undefined || planned === undefined) break;
    links.push({
      jobId: job.id,
      jobName: job.name,
      taskTitle: task.title,
      crewName: planned.crew?.name ?? "no crew",
      starts: dayAndClock(planned.start, zoneOfJob(reading.company, job), "en"),
      why: planned.because.text.en,
      kind: planned.because.kind,
      isElsewhere: (links.at(-1)?.jobId ?? job.id) !== job.id,
    });
    ref = planned.because.by;
  }
  return links;
}

/** What a task waits for in the end, where that is further away than the task that its own reason names. */
export function distantRoot(links: readonly ReasonLink[]): ReasonLink | undefined {
  return links.length > 2 ? links.at(-1) : undefined;
}
