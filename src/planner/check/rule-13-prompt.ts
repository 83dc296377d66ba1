/**
 * Rule 13: with crews and their order fixed, no task could start earlier. A weaker test than the rule, but a sound one:
 * it looks at ordinary tasks (no chain, no equipment, not published, not under way) and at idle time of the same crew
 * right before they start.
 */
import { addDays, civilDateAt, type CivilDate } from "../../domain/time.js";
import type { BrokenRule } from "./broken-rule.js";
import { firstWorkMinute, LEAST_USABLE_MINUTES, usableMinutes } from "./call-out.js";
import { brokenTask, type Case, type Check } from "./case.js";
import { windowOf } from "./crew-window.js";
import { sayTask, sayTime, workOf, type TaskFact } from "./evidence.js";
import { listPublishedWork } from "./frozen.js";
import { needsCrew } from "./length.js";
import { earliestByOthers } from "./rule-05-gates.js";
import { intersect, minutesIn, subtract } from "./spans.js";
import { listStrands, type Strand } from "./strands.js";
import { findChainWork } from "./unit-work.js";

export const checkPrompt: Check = (files) => {
  const strands = listStrands(files);
  const published = new Set(listPublishedWork(files.evidence).map((work) => work.key));
  return [...files.evidence.tasks.values()]
    .filter(
      (fact) =>
        fact.task.status === "to-do" && fact.trade !== null && Object.keys(fact.task.equipment).length === 0,
    )
    .filter((fact) => findChainWork(files.chains, fact) === undefined && !published.has(fact.key))
    .flatMap((fact) => (needsCrew(fact) ? checkWork(files, strands, fact) : checkEmpty(files, fact)));
};

/** A task of 0 hours is over as soon as what it follows is. */
function checkEmpty({ evidence }: Case, fact: TaskFact): BrokenRule[] {
  const entry = evidence.entryOf.get(fact.key);
  const earliest = Math.max(evidence.asOf, Math.ceil(earliestByOthers(evidence, fact)));
  if (entry === undefined || entry.start <= earliest) return [];
  return [
    brokenTask(
      13,
      fact,
      `${sayTask(fact)} takes no time and could be over ${sayTime(earliest, fact.zone)}, not ${sayTime(entry.start, fact.zone)}.`,
    ),
  ];
}

function checkWork(files: Case, strands: readonly Strand[], fact: TaskFact): BrokenRule[] {
  const { evidence } = files;
  const head = workOf(evidence, fact.key)[0];
  const place = head === undefined ? undefined : files.placeOf.get(head);
  if (head === undefined || place === undefined || fact.trade === null) return [];
  const { day, stay } = place;
  const ready = Math.max(evidence.asOf, Math.ceil(earliestByOthers(evidence, fact)));
  if (!Number.isFinite(ready)) return [];
  // Rain work waits for the hold of what was begun before it: why it starts when it does is not seen from here.
  const isRainWork = strands.some(
    (strand) =>
      strand.crew === head.crew &&
      !strand.facts.includes(fact) &&
      strand.last > head.start &&
      (strand.underWay || strand.first < head.start),
  );
  if (isRainWork) return [];
  const say = (from: number) => [
    {
      ...brokenTask(
        13,
        fact,
        `${sayTask(fact)} starts ${sayTime(head.start, evidence.zone)}, though crew ${head.crew.name} is free and everything ready ${sayTime(from, evidence.zone)}.`,
      ),
      crew: head.crew.id,
    },
  ];
  const window = windowOf(evidence, head.crew, day.date, fact.job, stay.trades);

  // Idle on the spot: whatever the crew did last in this stay, setup or work, ended before the task could have begun.
  const previous = stay.blocks.findLast((block) => block.end <= head.start && block !== head);
  if (previous !== undefined && (previous.kind === "setup" || previous.kind === "work")) {
    const gap = { start: Math.max(previous.end, ready), end: head.start };
    const idle = subtract(intersect(window, [gap]), day.blocks);
    if (minutesIn(idle) > 0) return say(idle[0]?.start ?? gap.start);
  }

  // First thing of the day: the crew could have set out earlier.
  const isFirstWork = day.stays[0] === stay && stay.work[0] === head;
  if (!isFirstWork) return [];
  const callOut = { crew: head.crew, date: day.date, job: fact.job, trades: stay.trades };
  const first = firstWorkMinute(evidence, callOut, ready);
  if (first !== undefined && first < head.start) return say(first);

  // Whole days before it on which the crew is at home, with nothing begun.
  const earlier = files.days.filter((other) => other.crew === head.crew && other.date < day.date);
  const before = Math.max(
    evidence.asOf,
    ...earlier.flatMap((other) => other.blocks.map((block) => block.end)),
  );
  const from = Math.max(before, ready);
  for (let date: CivilDate = civilDateAt(from, evidence.zone); date < day.date; date = addDays(date, 1)) {
    const isCalledOut = files.days.some((other) => other.crew === head.crew && other.date === date);
    if (isCalledOut) continue;
    if (usableMinutes(evidence, head.crew, date, fact.job, fact.trade, from) >= LEAST_USABLE_MINUTES) {
      return say(firstWorkMinute(evidence, { ...callOut, date, trades: [fact.trade] }, from) ?? from);
    }
  }
  return [];
}
