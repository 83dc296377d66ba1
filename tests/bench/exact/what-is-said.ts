/**
 * What the exact model cannot say, refused by name: a company that has it is never compared, so that the comparison is
 * always about the same problem on both sides.
 */
import type { Company, Job } from "../../../src/domain/company-schema.js";

/** Throws: the model has no word for this. */
export function refuse(what: string): never {
  throw new RangeError(`The exact model cannot say ${what}.`);
}

const LAGS: ReadonlySet<number> = new Set([0, 12, 24, 48, 72]);

export function refuseWhatIsNotSaid(company: Company): void {
  const { crews, trades, jobs, holds, equipment, policy } = company;
  if (equipment.length > 0) refuse("equipment");
  if (company.published !== null) refuse("a published plan");
  if (policy.openNights > 0) refuse("open nights");
  if (crews.some((crew) => crew.startsAt !== "site")) refuse("a crew that starts at the yard");
  if (crews.some((crew) => crew.stretch.length > 0)) refuse("a stretched day");
  if (trades.some((trade) => !trade.outdoor)) refuse("an indoor trade");
  const overheads = new Set(trades.map((trade) => `${trade.setupMinutes}/${trade.cleanupMinutes}`));
  if (overheads.size > 1) refuse("trades with different setup or cleanup");
  const starts = crews.flatMap((crew) => [
    ...Object.values(crew.week).map((hours) => hours?.[0]),
    ...crew.extra.map(({ hours }) => hours[0]),
  ]);
  if (new Set(starts).size > 1) refuse("shifts that start at different times");
  for (const hold of holds) {
    if (hold.trades !== "outdoor" || hold.jobs !== "all") refuse("a hold of some trades or houses");
    const from = hold.from.slice(11);
    const to = hold.to.slice(11);
    if (from !== "00:00" && to !== "00:00") refuse("a hold that begins and ends within a day");
  }
  jobs.forEach(refuseInJob);
}

function refuseInJob(job: Job): void {
  if (job.access !== null) refuse("access hours");
  if (job.site.timeZone !== undefined) refuse("a house with a zone of its own");
  for (const [at, task] of job.tasks.entries()) {
    if (task.status !== "to-do") refuse("work that has begun");
    if (task.trade !== null && !((task.laborHours ?? 0) > 0)) refuse("a task of no length");
    if (task.after.some((edge) => !LAGS.has(edge.lagHours)))
      refuse("a lag that is neither 12 hours nor whole days");
    if (task.notBefore !== null && task.notBefore.length > 10) refuse("a start not before a time of day");
    const before = job.tasks[at - 1];
    const isInside = before !== undefined && !before.closes && isInChain(job, at - 1);
    if (
      isInside &&
      (task.after.length !== 1 || task.after[0]?.task !== before.id || task.after[0].lagHours > 0)
    )
      refuse("a chain whose tasks do not simply follow each other");
    if (task.opens && task.closes) continue;
    const fromInside = task.after.some((edge) => {
      const place = job.tasks.findIndex((other) => other.id === edge.task);
      return isInChain(job, place) && job.tasks[place]?.closes === false && place !== at - 1;
    });
    if (fromInside) refuse("a task that follows the inside of a chain");
  }
}

/** Whether a task, by place, lies in a chain that begins at or before it in the list. */
function isInChain(job: Job, place: number): boolean {
  for (let at = place; at >= 0; at--) {
    if (job.tasks[at]?.opens) return true;
    if (job.tasks[at]?.closes && at < place) return false;
  }
  return false;
}
