/**
 * What the plan says of each crew, date and house: the light there, when tools go down, and the light in hand
 * (reading 26). One entry for each of them with work, and no other.
 */
import { zoneOfJob } from "../../domain/company-schema.js";
import type { PlanDay } from "../../domain/plan-format.js";
import { parseInstant, toIso, type Minute } from "../../domain/time.js";
import type { BrokenRule } from "./broken-rule.js";
import type { Case, Check } from "./case.js";
import type { CrewDay, Stay } from "./crew-days.js";
import { lightAt } from "./house.js";
import { dateThere, shiftAt } from "./shift.js";

export const checkDays: Check = (files) => {
  const { plan } = files.evidence;
  const found = new Set<PlanDay>();
  const broken = files.days.flatMap((day) => {
    const houses = [...new Set(day.stays.filter((stay) => stay.work.length > 0).map((stay) => stay.job))];
    return houses.flatMap((job) => {
      const entries = plan.days.filter(
        (entry) => entry.crew === day.crew.id && entry.date === day.date && entry.job === job.id,
      );
      for (const entry of entries) found.add(entry);
      const say = (sentence: string): BrokenRule => ({
        rule: "days",
        crew: day.crew.id,
        job: job.id,
        sentence: `The plan's day ${day.date} of crew ${day.crew.name} at ${job.name} ${sentence}.`,
      });
      const entry = entries[0];
      if (entry === undefined) return [say("is missing")];
      if (entries.length > 1) return [say("is there more than once")];
      return checkDay(
        files,
        day,
        day.stays.filter((stay) => stay.job === job),
        entry,
      ).map(say);
    });
  });
  const idle = plan.days
    .filter((entry) => !found.has(entry))
    .map((entry): BrokenRule => ({
      rule: "days",
      crew: entry.crew,
      job: entry.job,
      sentence: `The plan's day ${entry.date} of crew "${entry.crew}" at "${entry.job}" has no work.`,
    }));
  return [...broken, ...idle];
};

/** The ends of sentences that say what is wrong with one entry. */
function checkDay({ evidence }: Case, day: CrewDay, stays: readonly Stay[], entry: PlanDay): string[] {
  const job = stays[0]?.job;
  const shift = job === undefined ? null : shiftAt(evidence, day.crew, day.date, [job]);
  if (job === undefined || shift === null) return [];
  const zone = zoneOfJob(evidence.company, job);
  const light = lightAt(evidence, job, dateThere(evidence, job, shift));
  const margin = evidence.company.policy.lightMarginMinutes;
  const wrong: string[] = [];
  const compare = (name: string, said: string | null, right: Minute | null) => {
    const minute = said === null ? null : (parseInstant(said, zone) ?? null);
    if (minute !== right)
      wrong.push(
        `says ${name} ${said ?? "none"}, where ${right === null ? "none" : toIso(right, zone)} is right`,
      );
  };
  compare("firstLight", entry.firstLight, light.first);
  compare("lastLight", entry.lastLight, light.last);
  if (entry.light !== light.kind) wrong.push(`says light "${entry.light}", where "${light.kind}" is right`);
  const inHand = light.last === null ? null : light.last - margin - shift.end;
  if (entry.lightInHandMinutes !== inHand) {
    wrong.push(
      `says ${entry.lightInHandMinutes ?? "no"} minutes of light in hand, where ${inHand ?? "none"} are right`,
    );
  }
  // Stretching means nothing without a sunset: the entry may then say either.
  if (light.last !== null && entry.stretch !== day.crew.stretch.includes(day.date)) {
    wrong.push(`says stretch ${entry.stretch}, which the crew's file does not`);
  }
  return [
    ...wrong,
    ...checkToolsDown(
      entry,
      light.kind,
      stays,
      Math.min(shift.end, isOutdoor(stays) && light.last !== null ? light.last - margin : shift.end),
    ),
  ];
}

/**
 * Tools go down no earlier than the last outdoor work ends and early enough for cleanup within `end`; in between, how
 * much more is left for the way home and cover-up is the planner's to say.
 */
function checkToolsDown(entry: PlanDay, kind: string, stays: readonly Stay[], end: Minute): string[] {
  if (entry.toolsDown === null) return kind === "none" ? [] : ["does not say when tools go down"];
  const said = parseInstant(entry.toolsDown, "UTC") ?? 0;
  const lastWork = Math.max(...stays.flatMap((stay) => stay.work.map((block) => block.end)));
  const cleanup = (stays.at(-1)?.blocks ?? [])
    .filter((block) => block.kind === "cleanup" || block.kind === "cover-up")
    .reduce((sum, block) => sum + block.end - block.start, 0);
  if (said + cleanup > end)
    return [`says tools go down ${entry.toolsDown}, too late for ${cleanup} minutes of cover-up and cleanup`];
  if (isOutdoor(stays) && said < lastWork)
    return [`says tools go down ${entry.toolsDown}, before the last work ends`];
  return [];
}

const isOutdoor = (stays: readonly Stay[]): boolean =>
  stays.some((stay) => stay.trades.some((trade) => trade.outdoor));
