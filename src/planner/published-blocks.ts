/**
 * What a plan becomes when it is published: the blocks that crews see, all of them. Of what was published before, the
 * days just gone stay, so that a sheet of yesterday and of this morning can still be looked at; older ones go.
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
  const past = (company.published ?? []).flatMap((block): PublishedInput[] => {
    const [start, end] = [at(block.start), at(block.end)];
    if (start < oldest || start >= asOf) return [];
    // What was going on at that minute goes on by the new plan, or has been stopped by it.
    const written = toWritten(block);
    return [end <= asOf ? written : { ...written, end: toIso(asOf, zoneOfBlock(company, block.job)) }];
  });
  return [...past, ...plan.blocks.map(toWritten)];
}

function toWritten(block: PlanBlock | PublishedBlock): PublishedInput {
  const { crew, kind, job, task, units, start, end } = block;
  return { crew, kind, job, task, units: units === null ? null : [units[0], units[1]], start, end };
}

function zoneOfBlock(company: Company, jobId: string | null): string {
  const job = company.jobs.find(({ id }) => id === jobId);
  return job === undefined ? company.company.timeZone : zoneOfJob(company, job);
}
