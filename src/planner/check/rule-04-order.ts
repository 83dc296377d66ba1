/**
 * Rule 4: a task starts at or after the end of each task that it follows plus the lag; inside a chain unit by unit
 * (rule 8), elsewhere task by task. A task under way has begun already: its start is not the plan's to choose.
 */
import type { BrokenRule } from "./broken-rule.js";
import { brokenTask, type Case, type Check } from "./case.js";
import { keyOf, sayTask, sayTime, type TaskFact } from "./evidence.js";
import { endOfTask, endOfUnit, findChainWork, startOfTask } from "./unit-work.js";

export const checkOrder: Check = (files) =>
  [...files.evidence.tasks.values()]
    .filter((fact) => fact.task.status === "to-do")
    .flatMap((fact) =>
      fact.task.after.flatMap((link) => {
        const before = files.evidence.tasks.get(keyOf(fact.job.id, link.task));
        return before === undefined ? [] : checkLink(files, fact, before, link.lagHours);
      }),
    );

function checkLink(files: Case, fact: TaskFact, before: TaskFact, lagHours: number): BrokenRule[] {
  const { evidence } = files;
  const start = startOfTask(evidence, fact);
  if (start === undefined) return [];
  if (evidence.impossible.has(before.key)) {
    return [
      brokenTask(
        4,
        fact,
        `${sayTask(fact)} is planned, but it follows ${sayTask(before)}, which is listed as impossible.`,
      ),
    ];
  }
  const late = (begins: number, ends: number) => begins + 1e-6 < ends + lagHours * 60;
  const say = (begins: number, ends: number, unit: string) =>
    brokenTask(
      4,
      fact,
      `${sayTask(fact)}${unit} starts ${sayTime(begins, fact.zone)}, but ${sayTask(before)}${unit} ends ${sayTime(ends, fact.zone)}` +
        (lagHours > 0 ? ` and ${lagHours} hours must pass.` : "."),
    );
  const chain = findChainWork(files.chains, fact);
  const units = chain?.units.get(fact.key);
  if (chain === undefined || units === undefined || !chain.chain.tasks.includes(before.task)) {
    const ends = endOfTask(evidence, before);
    return ends !== undefined && late(start, ends) ? [say(start, ends, "")] : [];
  }
  return units.pieces.flatMap((pieces, index) => {
    const begins = pieces[0]?.start;
    const ends = endOfUnit(evidence, chain, before, index + 1);
    if (begins === undefined || ends === undefined || !late(begins, ends)) return [];
    // An end that nothing planned reaches is for rules 4 and 12 to report where it is missing.
    return Number.isFinite(ends) ? [say(begins, ends, `, unit ${index + 1},`)] : [];
  });
}
