/**
 * Rule 8: what is opened is closed in time: within the day and by one crew with 0 open nights, within n nights
 * otherwise, and never open while a hold stops the closing trade (readings 12 to 14).
 */
import { civilDateAt, daysBetween } from "../../domain/time.js";
import type { BrokenRule } from "./broken-rule.js";
import type { Case, Check } from "./case.js";
import { chainsOf, wasOpen } from "./chains.js";
import { dateOf } from "./crew-days.js";
import { windowWithoutHolds } from "./crew-window.js";
import { keyOf, sayTask, sayTime, workOf, type Evidence } from "./evidence.js";
import { holdSpans } from "./house.js";
import { isOpenerUnitWhole, checkShares } from "./rule-07-whole-units.js";
import { mealBreakOf, shiftAt } from "./shift.js";
import { overlaps } from "./spans.js";
import { isUnbroken, openSpan, piecesOfUnit, type ChainWork } from "./unit-work.js";

export const checkOpenWall: Check = (files) => [
  ...files.chains.flatMap((work) => checkChain(files, work)),
  ...listUnclosed(files),
];

function checkChain({ evidence }: Case, work: ChainWork): BrokenRule[] {
  const { chain } = work;
  const { openNights } = evidence.company.policy;
  const area = chain.openers[0]?.area ?? "the wall";
  const say = (sentence: string, task = chain.openers[0]?.id ?? ""): BrokenRule => ({
    rule: 8,
    job: chain.job.id,
    task,
    sentence: `${sentence}.`,
  });
  const shares = [...work.units.values()]
    .filter(({ fact }) => !chain.openers.includes(fact.task))
    .flatMap((units) => checkShares(8, units));
  const units = Array.from({ length: chain.units }, (_, index) => index + 1);
  const each = units.flatMap((unit) => {
    const name = `Unit ${unit} of ${area} at ${chain.job.name}`;
    const open = openSpan(evidence, work, unit);
    const broken: BrokenRule[] = [];
    if (open === null || wasOpen(chain, unit)) return broken;
    if (open.end === Infinity)
      return [say(`${name} is opened ${sayTime(open.start, zoneOf(evidence, work))} and never closed`)];
    const zone = zoneOf(evidence, work);
    const nights = daysBetween(civilDateAt(open.start, zone), civilDateAt(open.end - 1, zone));
    if (openNights > 0 && nights > openNights) {
      broken.push(
        say(
          `${name} is open ${nights} nights, from ${sayTime(open.start, zone)} to ${sayTime(open.end, zone)}; ${openNights} are allowed`,
        ),
      );
    }
    if (openNights === 0 && !isUnitWhole(evidence, work, unit)) {
      broken.push(
        say(
          `${name} is open from ${sayTime(open.start, zone)} to ${sayTime(open.end, zone)}, not within one unbroken window of one day`,
        ),
      );
    }
    for (const closer of chain.closers) {
      const trade = evidence.tasks.get(keyOf(chain.job.id, closer.id))?.trade;
      const held = trade === undefined || trade === null ? [] : holdSpans(evidence, chain.job, [trade]);
      const hold = held.find((span) => overlaps(span, open));
      if (hold !== undefined) {
        broken.push(
          say(
            `${name} is open at ${sayTime(Math.max(hold.start, open.start), zone)}, while a hold stops "${closer.title}", which closes it`,
            closer.id,
          ),
        );
      }
    }
    return broken;
  });
  return [...shares, ...each, ...(openNights === 0 ? checkOneCrew(work, say) : [])];
}

/** All shares of the unit in one window of one day. What rule 7 already says of the opener's share is not said again. */
function isUnitWhole(evidence: Evidence, work: ChainWork, unit: number): boolean {
  const pieces = piecesOfUnit(work, unit);
  const head = pieces[0]?.block;
  if (head === undefined) return true;
  const openers = [...work.units.values()].filter(({ fact }) => work.chain.openers.includes(fact.task));
  if (openers.some((units) => !isOpenerUnitWhole(evidence, work, units, unit))) return true;
  const date = dateOf(evidence, head);
  const trades = [...new Set(pieces.flatMap((piece) => piece.block.task.trade ?? []))];
  const window = windowWithoutHolds(evidence, head.crew, date, work.chain.job, trades);
  return isUnbroken(
    pieces,
    window,
    mealBreakOf(evidence, shiftAt(evidence, head.crew, date, [work.chain.job])),
  );
}

/** With no open nights, one crew does a chain, and one unit after the other. */
function checkOneCrew(work: ChainWork, say: (sentence: string) => BrokenRule): BrokenRule[] {
  const { chain } = work;
  const spans = Array.from({ length: chain.units }, (_, index) => ({
    unit: index + 1,
    pieces: piecesOfUnit(work, index + 1),
  }))
    .flatMap(({ unit, pieces }) => {
      const start = pieces[0]?.start;
      return start === undefined ? [] : [{ unit, start, end: Math.max(...pieces.map((piece) => piece.end)) }];
    })
    .sort((a, b) => a.start - b.start);
  const mixed = spans.flatMap((span, index) => {
    const next = spans[index + 1];
    if (next === undefined || next.start >= span.end) return [];
    return [say(`Unit ${next.unit} is begun at ${chain.job.name} before unit ${span.unit} is closed`)];
  });
  const crews = new Set(
    [...work.units.values()].flatMap(({ pieces }) => pieces.flat().map((piece) => piece.block.crew.name)),
  );
  if (crews.size < 2) return mixed;
  return [
    ...mixed,
    say(
      `The wall at ${chain.job.name} is worked by ${[...crews].join(" and ")}, but with no open nights it is one crew's`,
    ),
  ];
}

function listUnclosed({ evidence }: Case): BrokenRule[] {
  return evidence.company.jobs.flatMap((job) =>
    chainsOf(job).neverClosed.flatMap((task): BrokenRule[] => {
      const key = keyOf(job.id, task.id);
      const fact = evidence.tasks.get(key);
      if (fact === undefined || workOf(evidence, key).length === 0) return [];
      return [
        {
          rule: 8,
          job: job.id,
          task: task.id,
          sentence: `${sayTask(fact)} is planned, but no task of its area closes what it opens.`,
        },
      ];
    }),
  );
}

function zoneOf(evidence: Evidence, { chain }: ChainWork): string {
  return chain.job.site.timeZone ?? evidence.company.company.timeZone;
}
