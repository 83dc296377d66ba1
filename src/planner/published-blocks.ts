/**
 * What a plan becomes when it is published: the blocks that crews see, all of them. Of what was published before, the
 * days just gone stay, so that a sheet of yesterday and of this morning can still be looked at; older ones go. So does
 * work of this morning that was not done and that the plan has on other days: it is no promise any more.
 * The JSON of the company file's `published`, with nothing that a default says.
 */
import { zoneOfJob, type Company, type PublishedBlock } from "../domain/company-schema.js";
import type { Plan, PlanBlock } from "../domain/plan-format.js";
import { addDays, civilDateAt, dayStart, parseInstant, toIso, type Minute } from "../domain/time.js";

/** Days before the as-of date whose published blocks are kept. */
const KEPT_DAYS = 7;

/** An entry of `published` as it is written. */
export type PublishedInput = PlanBlock;

/** The blocks in the order of the plan, those of the past before them. */
export function toPublishedBlocks(company: Company, plan: Plan): readonly PublishedInput[] {
  const zone = company.company.timeZone;
  const at = (text: string): Minute => parseInstant(text, zone) ?? 0;
  const asOf = at(plan.asOf);
  const oldest = dayStart(addDays(civilDateAt(asOf, zone), -KEPT_DAYS), zone);
  const today = civilDateAt(asOf, zone);
  const isGivenUp = findGivenUp(company, plan);
  const past = (company.published ?? []).flatMap((block): PublishedInput[] => {
    const [start, end] = [at(block.start), at(block.end)];
    if (start < oldest || start >= asOf || isGivenUp(block, civilDateAt(start, zone) === today)) return [];
    // What was going on at that minute goes on by the new plan, or has been stopped by it.
    const written = toWritten(block);
    return [end <= asOf ? written : { ...written, end: toIso(asOf, zoneOfBlock(company, block.job)) }];
  });
  return [...past, ...plan.blocks.map(toWritten)];
}

/** Whether a piece of work that has not been done is no longer where it was: of today, or in the plan at all. */
function findGivenUp(company: Company, plan: Plan): (block: PublishedBlock, isToday: boolean) => boolean {
  const zone = company.company.timeZone;
  const open = new Set(
    company.jobs.flatMap((job) =>
      job.tasks.filter(({ status }) => status !== "done").map((task) => `${job.id}/${task.id}`),
    ),
  );
  const asOf = parseInstant(plan.asOf, zone) ?? 0;
  const tomorrow = dayStart(addDays(civilDateAt(asOf, zone), 1), zone);
  const planned = new Set<string>();
  const plannedToday = new Set<string>();
  for (const block of plan.blocks) {
    if (block.kind !== "work") continue;
    planned.add(taskOf(block));
    if ((parseInstant(block.start, zone) ?? 0) < tomorrow) {
      plannedToday.add(`${block.crew} ${taskOf(block)}`);
    }
  }
  return (block, isToday) => {
    const task = taskOf(block);
    if (block.kind !== "work" || !open.has(task)) return false;
    return !planned.has(task) || (isToday && !plannedToday.has(`${block.crew} ${task}`));
  };
}

const taskOf = ({ job, task }: { readonly job: string | null; readonly task: string | null }): string =>
  `${job ?? ""}/${task ?? ""}`;

function toWritten(block: PlanBlock | PublishedBlock): PublishedInput {
  const { crew, kind, job, task, units, start, end } = block;
  return { crew, kind, job, task, units: units === null ? null : [units[0], units[1]], start, end };
}

function zoneOfBlock(company: Company, jobId: string | null): string {
  const job = company.jobs.find(({ id }) => id === jobId);
  return job === undefined ? company.company.timeZone : zoneOfJob(company, job);
}
