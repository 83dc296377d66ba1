/**
 * Rule 5: a task starts no earlier than its gates open; a wait starts when everything that it follows has ended and ends
 * after its business days (reading 16). Done work and what is under way are past their gates.
 */
import { parseInstant, type Minute } from "../../domain/time.js";
import { endOfBusinessWait } from "../../domain/holidays.js";
import type { BrokenRule } from "./broken-rule.js";
import { brokenTask, type Case, type Check } from "./case.js";
import { keyOf, sayTask, sayTime, type EntryFact, type Evidence, type TaskFact } from "./evidence.js";
import { listGates } from "./gates.js";
import { endOfTask, startOfTask } from "./unit-work.js";

export const checkGates: Check = (files) => [
  ...[...files.evidence.tasks.values()].flatMap((fact) => checkStart(files, fact)),
  ...files.evidence.entries
    .filter(({ fact }) => fact.trade === null)
    .flatMap((entry) => checkWait(files, entry)),
];

function checkStart({ evidence }: Case, fact: TaskFact): BrokenRule[] {
  const start = startOfTask(evidence, fact);
  if (start === undefined || fact.task.status !== "to-do") return [];
  return listGates(evidence, fact)
    .filter((gate) => start < gate.opens)
    .map((gate) =>
      brokenTask(
        5,
        fact,
        `${sayTask(fact)} starts ${sayTime(start, fact.zone)}, before ${gate.why} (${sayTime(gate.opens, fact.zone)}).`,
      ),
    );
}

function checkWait({ evidence }: Case, { fact, start, end }: EntryFact): BrokenRule[] {
  const days = fact.task.waitBusinessDays ?? 0;
  const right = days === 0 ? start : endOfBusinessWait(start, days, fact.zone, evidence.zone);
  const broken: BrokenRule[] = [];
  const latest = latestStartOfWait(evidence, fact);
  if (start > latest) {
    broken.push(
      brokenTask(
        5,
        fact,
        `The wait ${sayTask(fact)} starts ${sayTime(start, fact.zone)}, though it could from ${sayTime(latest, fact.zone)}.`,
      ),
    );
  }
  // A wait that should be over, and is not, ends with the start of the plan at the earliest.
  if (end !== right && end !== Math.max(right, evidence.asOf)) {
    broken.push(
      brokenTask(
        5,
        fact,
        `The wait ${sayTask(fact)} of ${days} business days from ${sayTime(start, fact.zone)} ends ${sayTime(right, fact.zone)}, not ${sayTime(end, fact.zone)}.`,
      ),
    );
  }
  return broken;
}

/** A wait starts at once; where nothing says when that was, at the start of the plan. */
function latestStartOfWait(evidence: Evidence, fact: TaskFact): Minute {
  if (fact.task.status === "under-way") {
    return (
      (fact.task.startedAt === null ? undefined : parseInstant(fact.task.startedAt, fact.zone)) ??
      evidence.asOf
    );
  }
  return Math.max(evidence.asOf, Math.ceil(earliestByOthers(evidence, fact)));
}

/**
 * When everything outside the crews lets a task start: all that it follows, with lags, task by task, and its gates.
 * −∞ where nothing holds it; +∞ where something that it follows is not planned.
 */
export function earliestByOthers(evidence: Evidence, fact: TaskFact): Minute {
  const ends = fact.task.after.map((link) => {
    const before = evidence.tasks.get(keyOf(fact.job.id, link.task));
    return before === undefined ? -Infinity : (endOfTask(evidence, before) ?? Infinity) + link.lagHours * 60;
  });
  return Math.max(-Infinity, ...ends, ...listGates(evidence, fact).map((gate) => gate.opens));
}
