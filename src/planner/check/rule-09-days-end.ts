/**
 * Rule 9: every stay begins with setup and ends with cleanup, of the lengths that its trades ask for, after covering
 * what is left open (readings 7, 8 and 15).
 */
import type { Trade } from "../../domain/company-schema.js";
import type { Minute } from "../../domain/time.js";
import type { BrokenRule } from "./broken-rule.js";
import type { Case, Check } from "./case.js";
import { wasOpen } from "./chains.js";
import type { CrewDay, Stay } from "./crew-days.js";
import { inRange, type Range } from "./length.js";
import { minutesIn } from "./spans.js";
import { findChainWork, openSpan } from "./unit-work.js";

export const checkDaysEnd: Check = (files) =>
  files.days.flatMap((day) => day.stays.flatMap((stay, index) => checkStay(files, day, stay, index)));

function checkStay(files: Case, day: CrewDay, stay: Stay, index: number): BrokenRule[] {
  const say = (sentence: string): BrokenRule => ({
    rule: 9,
    crew: day.crew.id,
    job: stay.job.id,
    sentence: `Crew ${day.crew.name} on ${day.date} at ${stay.job.name} ${sentence}.`,
  });
  const firstWork = stay.work[0];
  const lastWork = stay.work.at(-1);
  if (firstWork === undefined || lastWork === undefined) return [say("does no work there")];
  const soFar = day.stays.slice(0, index + 1).filter((other) => other.job === stay.job);
  const setup = longest(stay.trades, (trade) => trade.setupMinutes);
  const cleanup = longest(
    soFar.flatMap((other) => other.trades),
    (trade) => trade.cleanupMinutes,
  );
  const of = (kind: string) => stay.blocks.filter((block) => block.kind === kind);
  const minutes = (kind: string) => minutesIn(of(kind));
  const broken: BrokenRule[] = [];
  if (minutes("setup") !== setup)
    broken.push(say(`has ${minutes("setup")} minutes of setup, where ${setup} are right`));
  else if (of("setup").length > 1) broken.push(say("has its setup in several parts"));
  if (minutes("cleanup") !== cleanup)
    broken.push(say(`has ${minutes("cleanup")} minutes of cleanup, where ${cleanup} are right`));
  else if (of("cleanup").length > 1) broken.push(say("has its cleanup in several parts"));
  const cover = coverUpRange(files, stay);
  if (!inRange(minutes("cover-up"), cover))
    broken.push(say(`has ${minutes("cover-up")} minutes of cover-up, where ${cover.most} are right`));
  if (of("setup").some((block) => block.start > firstWork.start))
    broken.push(say("sets up after work has begun"));
  const cleanups = of("cleanup");
  if (cleanups.some((block) => block.start < lastWork.start))
    broken.push(say("cleans up before the last work"));
  if (
    of("cover-up").some(
      (block) => block.start < lastWork.start || cleanups.some((last) => last.start < block.start),
    )
  ) {
    broken.push(say("has its cover-up elsewhere than between the last work and cleanup"));
  }
  return broken;
}

const longest = (trades: readonly Trade[], minutes: (trade: Trade) => number): number =>
  Math.max(0, ...trades.map(minutes));

/**
 * For each chain worked in the stay that has a unit open: asked for where it is open when the crew is gone, right where
 * it is open when the crew's own work ends (another crew may be closing it).
 */
function coverUpRange({ evidence, chains }: Case, stay: Stay): Range {
  const { openNights, coverUpMinutes } = evidence.company.policy;
  const lastWork = Math.max(...stay.work.map((block) => block.end));
  const worked = new Set(stay.work.flatMap((block) => findChainWork(chains, block.task) ?? []));
  let least = 0;
  let most = 0;
  for (const work of worked) {
    const units = Array.from({ length: work.chain.units }, (_, unit) => unit + 1);
    const isOpenAt = (unit: number, at: Minute) => {
      const span = openSpan(evidence, work, unit);
      return span !== null && span.start < at && at < span.end;
    };
    // With no open nights only what was open before the plan can rightly be open still.
    const mayCover = (unit: number) => openNights > 0 || wasOpen(work.chain, unit);
    if (units.some((unit) => mayCover(unit) && isOpenAt(unit, stay.end))) least += coverUpMinutes;
    if (units.some((unit) => mayCover(unit) && (isOpenAt(unit, lastWork) || isOpenAt(unit, stay.end))))
      most += coverUpMinutes;
  }
  return { least, most };
}
