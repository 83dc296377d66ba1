/**
 * Rule 3: every block lies in its window (readings 3 and 4): work in that of its trade; setup, cleanup and cover-up in
 * that of all trades of the stay; load and travel in the shift outside the break; the break exactly in its place.
 */
import type { BrokenRule } from "./broken-rule.js";
import type { Case, Check } from "./case.js";
import type { CrewDay, Stay } from "./crew-days.js";
import { whyOutside } from "./crew-window.js";
import { isWork, saySpan, sayTask, type BlockFact } from "./evidence.js";
import { covers, overlaps } from "./spans.js";

export const checkWindows: Check = (files) =>
  files.days.flatMap((day) => [
    ...day.stays.flatMap((stay) => checkStay(files, day, stay)),
    ...checkRoad(files, day),
    ...checkBreak(files, day),
  ]);

function checkStay({ evidence }: Case, day: CrewDay, stay: Stay): BrokenRule[] {
  return stay.blocks.flatMap((block) => {
    const trades = isWork(block) && block.task.trade !== null ? [block.task.trade] : stay.trades;
    const why = whyOutside(evidence, day.crew, day.date, stay.job, trades, block);
    if (why === null) return [];
    const what = isWork(block) ? `works on ${sayTask(block.task)}` : `has ${block.kind} at ${stay.job.name}`;
    const sentence = `Crew ${day.crew.name} ${what} ${saySpan(block, evidence.zone)}, but ${why}.`;
    const broken: BrokenRule = { rule: 3, crew: day.crew.id, job: stay.job.id, sentence };
    return [isWork(block) ? { ...broken, task: block.task.task.id } : broken];
  });
}

function checkRoad({ evidence }: Case, day: CrewDay): BrokenRule[] {
  const { crew, shift, mealBreak } = day;
  const say = (block: BlockFact, why: string): BrokenRule => ({
    rule: 3,
    crew: crew.id,
    sentence: `Crew ${crew.name} has ${block.kind} ${saySpan(block, evidence.zone)}, but ${why}.`,
  });
  return [...day.gaps.flat(), ...day.strays].flatMap((block) => {
    if (shift === null) return [say(block, `it has no shift on ${day.date}`)];
    if (!covers([shift], block)) return [say(block, `its shift is ${saySpan(shift, evidence.zone)}`)];
    if (mealBreak === null || !overlaps(mealBreak, block)) return [];
    return [say(block, `its meal break is ${saySpan(mealBreak, evidence.zone)}`)];
  });
}

function checkBreak({ evidence }: Case, { crew, date, blocks, mealBreak }: CrewDay): BrokenRule[] {
  const say = (sentence: string): BrokenRule => ({
    rule: 3,
    crew: crew.id,
    sentence: `Crew ${crew.name} on ${date} ${sentence}.`,
  });
  const breaks = blocks.filter((block) => block.kind === "break");
  const others = blocks.filter((block) => block.kind !== "break");
  const due =
    mealBreak !== null &&
    others.some((block) => block.start < mealBreak.start) &&
    others.some((block) => block.end > mealBreak.end);
  if (!due || mealBreak === null) {
    return breaks.map((block) =>
      say(`has a meal break ${saySpan(block, evidence.zone)}, but none is due that day`),
    );
  }
  const wrong = breaks.filter((block) => block.start !== mealBreak.start || block.end !== mealBreak.end);
  if (breaks.length === 1 && wrong.length === 0) return [];
  const has =
    breaks.length === 0
      ? "has no meal break"
      : `has its meal break ${breaks.map((block) => saySpan(block, evidence.zone)).join(" and ")}`;
  return [say(`${has}; it is due ${saySpan(mealBreak, evidence.zone)}`)];
}
