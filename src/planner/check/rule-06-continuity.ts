/**
 * Rule 6: a task gets all its minutes; once begun it stays with its crew, which does nothing else until it is done but
 * in time that a hold takes from it, and uses its next windows (readings 10, 11 and 18).
 */
import { addDays, type CivilDate } from "../../domain/time.js";
import type { BrokenRule } from "./broken-rule.js";
import { firstWorkMinute, lastWorkMinute, LEAST_USABLE_MINUTES, usableMinutes } from "./call-out.js";
import { wasOpen } from "./chains.js";
import { brokenTask, type Case, type Check, type Place } from "./case.js";
import { dateOf } from "./crew-days.js";
import { windowOf } from "./crew-window.js";
import { sayTask, sayTime, type Evidence, type WorkFact } from "./evidence.js";
import { listFrozenWork } from "./frozen.js";
import { inRange, lengthOn } from "./length.js";
import { earliestByOthers } from "./rule-05-gates.js";
import { minutesBetween, minutesIn, subtract } from "./spans.js";
import { isInHeldTime, keeperOf, listStrands, type Strand } from "./strands.js";
import { findChainWork } from "./unit-work.js";

/** Within one stay there is nothing to go and come for: so much idle time in the task's window is too much. */
const LEAST_IDLE_MINUTES = 5;

export const checkContinuity: Check = (files) => [
  ...checkLengths(files),
  ...listInterruptions(files, false),
  ...[...files.evidence.work.values()].flatMap((blocks) =>
    blocks.flatMap((block, index) => {
      const next = blocks[index + 1];
      return next === undefined ? [] : checkGap(files, block, next);
    }),
  ),
];

function checkLengths({ evidence }: Case): BrokenRule[] {
  return [...evidence.work.values()].flatMap((blocks) => {
    const head = blocks[0];
    const length = head === undefined ? undefined : lengthOn(head.crew, head.task);
    const minutes = minutesIn(blocks);
    if (head === undefined || length === undefined || inRange(minutes, length)) return [];
    return [
      brokenTask(
        6,
        head.task,
        `${sayTask(head.task)} gets ${minutes} minutes from crew ${head.crew.name}, but takes ${length.most}.`,
      ),
    ];
  });
}

/**
 * Work of a crew in the middle of something else that it has begun. `beforeUnderWay`: only what comes before its work
 * under way (rule 11); otherwise only the rest (rule 6).
 */
export function listInterruptions(files: Case, beforeUnderWay: boolean): BrokenRule[] {
  const { evidence } = files;
  const strands = listStrands(files);
  const frozen = listFrozenWork(evidence);
  return strands.flatMap((strand) =>
    strands
      .filter((other) => other !== strand && other.crew === strand.crew && isOuter(strand, other))
      .flatMap((other) => other.blocks)
      .filter((block) => {
        if (block.start >= strand.last) return false;
        if (block.start < strand.first !== beforeUnderWay) return false;
        if (
          beforeUnderWay &&
          (isWaiting(evidence, strand, block) || closesOldWall(files, block) || isOfBegunChain(files, block))
        )
          return false;
        const date = dateOf(evidence, block);
        const pinned = frozen.some(
          (work) => work.key === block.task.key && work.crewId === block.crew.id && work.date === date,
        );
        // Rain work of one strand may in turn wait for another's hold.
        return (
          !pinned &&
          !strands.some(
            (any) =>
              any.crew === strand.crew && isOuterOf(any, block) && isInHeldTime(evidence, any, block, date),
          )
        );
      })
      .map((block) => {
        const said = strand.facts.map(sayTask).join(", ");
        return {
          ...brokenTask(beforeUnderWay ? 11 : 6, block.task, ""),
          crew: block.crew.id,
          sentence: beforeUnderWay
            ? `Crew ${block.crew.name} works on ${sayTask(block.task)} at ${sayTime(block.start, evidence.zone)}, before what it has under way: ${said}.`
            : `Crew ${block.crew.name} works on ${sayTask(block.task)} at ${sayTime(block.start, evidence.zone)}, though it has begun and not finished ${said}, which no hold stops then.`,
        };
      }),
  );
}

/** Work under way that something outside the crew stops at that time: it cannot come first. */
function isWaiting(evidence: Evidence, strand: Strand, block: WorkFact): boolean {
  return strand.facts.some(
    (fact) => keeperOf(fact) !== null && earliestByOthers(evidence, fact) > block.start,
  );
}

/** What stood open before the plan is closed first (reading 14), even before the crew's own work under way. */
function closesOldWall({ chains }: Case, block: WorkFact): boolean {
  const chain = findChainWork(chains, block.task)?.chain;
  return (
    chain !== undefined &&
    Array.from({ length: chain.units }, (_, index) => index + 1).some((unit) => wasOpen(chain, unit))
  );
}

/** A chain is under way when one of its tasks is, for each crew that has a share in it (reading 19). */
function isOfBegunChain({ chains }: Case, block: WorkFact): boolean {
  const chain = findChainWork(chains, block.task)?.chain;
  return chain?.tasks.some((task) => task.status === "under-way" && task.trade !== null) === true;
}

/** The one that was begun first; what was under way before the plan comes before all that was not. */
function isOuter(strand: Strand, other: Strand): boolean {
  return strand.underWay === other.underWay ? strand.first < other.first : strand.underWay;
}

function isOuterOf(strand: Strand, block: WorkFact): boolean {
  return (
    !strand.blocks.includes(block) &&
    (strand.underWay || strand.first < block.start) &&
    block.start < strand.last
  );
}

/** Minutes that a stay with a chain in it may have kept for a cover-up that was not needed in the end (reading 15). */
function reserve({ evidence, chains }: Case, stay: Place["stay"]): number {
  const { openNights, coverUpMinutes } = evidence.company.policy;
  const worked = new Set(stay.work.flatMap((block) => findChainWork(chains, block.task) ?? []));
  return openNights > 0 ? worked.size * coverUpMinutes : 0;
}

/** Whether work lies inside another task of its crew: it stops when that one's hold does, and goes on behind it. */
function isRainWork({ evidence }: Case, { crew, task, start, end }: WorkFact): boolean {
  return [...evidence.work.values()].some((blocks) => {
    const own = blocks.filter((block) => block.crew === crew && block.task !== task);
    return own.some((block) => block.end <= start) && own.some((block) => block.start >= end);
  });
}

/** Between two parts of a task: time that the crew had for it and let pass. Chains have units to fit, and are left out. */
function checkGap(files: Case, one: WorkFact, next: WorkFact): BrokenRule[] {
  const { crew, task, job } = one;
  const { evidence } = files;
  if (next.crew !== crew || task.trade === null || findChainWork(files.chains, task) !== undefined) return [];
  const from = files.placeOf.get(one);
  const to = files.placeOf.get(next);
  if (from === undefined || to === undefined || isRainWork(files, one)) return [];
  const say = (minutes: number, when: string) => [
    {
      ...brokenTask(
        6,
        task,
        `Crew ${crew.name} has ${minutes} minutes for ${sayTask(task)} ${when} and leaves them unused, though it has begun the task.`,
      ),
      crew: crew.id,
    },
  ];
  const window = ({ day, stay }: Place) => windowOf(evidence, crew, day.date, job, stay.trades);
  if (from.stay === to.stay) {
    const free = subtract(window(from), from.day.blocks);
    const idle = minutesBetween(free, one.end, next.start);
    return idle < LEAST_IDLE_MINUTES ? [] : say(idle, `after ${sayTime(one.end, evidence.zone)}`);
  }
  if (from.day === to.day) return [];
  const broken: BrokenRule[] = [];
  if (from.day.stays.at(-1) === from.stay && from.stay.work.at(-1) === one) {
    const closing = minutesIn(
      from.stay.blocks.filter((block) => block.kind === "cleanup" || block.kind === "cover-up"),
    );
    const last =
      lastWorkMinute(
        evidence,
        { crew, date: from.day.date, job, trades: from.stay.trades },
        closing + reserve(files, from.stay),
      ) ?? one.end;
    const idle = minutesBetween(window(from), one.end, Math.max(one.end, last));
    if (idle >= LEAST_USABLE_MINUTES) broken.push(...say(idle, `at the end of ${from.day.date}`));
  }
  if (to.day.stays[0] === to.stay && to.stay.work[0] === next) {
    const first =
      firstWorkMinute(evidence, { crew, date: to.day.date, job, trades: to.stay.trades }, evidence.asOf) ??
      next.start;
    const idle = minutesBetween(window(to), Math.min(first, next.start), next.start);
    if (idle >= LEAST_USABLE_MINUTES) broken.push(...say(idle, `at the start of ${to.day.date}`));
  }
  const calledOut = new Set(files.days.filter((day) => day.crew === crew).map((day) => day.date));
  for (let date: CivilDate = addDays(from.day.date, 1); date < to.day.date; date = addDays(date, 1)) {
    if (calledOut.has(date)) continue;
    const idle = usableMinutes(evidence, crew, date, job, task.trade, evidence.asOf);
    if (idle >= LEAST_USABLE_MINUTES) broken.push(...say(idle, `on ${date}`));
  }
  return broken;
}
