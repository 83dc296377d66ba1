/**
 * Rule 12: every open task is planned once, with work where it needs a crew, or listed as impossible; nothing done is
 * planned; what is listed as impossible is not plainly possible; and the plan's entries say what its blocks say.
 */
import { addDays, civilDateAt, type CivilDate } from "../../domain/time.js";
import type { BrokenRule } from "./broken-rule.js";
import { usableMinutes } from "./call-out.js";
import { brokenTask, type Case, type Check } from "./case.js";
import { keyOf, sayTask, sayTime, workOf, type EntryFact, type TaskFact } from "./evidence.js";
import { lengthOn, needsCrew } from "./length.js";
import { whyIneligible } from "./rule-01-eligible.js";
import { earliestByOthers } from "./rule-05-gates.js";
import { keeperOf } from "./strands.js";
import { findChainWork } from "./unit-work.js";

export const checkComplete: Check = (files) => [
  ...[...files.evidence.tasks.values()].flatMap((fact) => checkTask(files, fact)),
  ...files.evidence.entries.flatMap((entry) => checkEntry(files, entry)),
];

function checkTask(files: Case, fact: TaskFact): BrokenRule[] {
  const { entries, impossible, plan, work } = files.evidence;
  const planned = entries.filter((entry) => entry.fact === fact).length;
  const listed = plan.impossible.filter((item) => keyOf(item.job, item.task) === fact.key).length;
  const worked = work.has(fact.key);
  const say = (sentence: string) => [brokenTask(12, fact, `${sayTask(fact)} ${sentence}.`)];
  if (fact.task.status === "done")
    return planned + listed > 0 || worked ? say("is done, but the plan still has it") : [];
  if (planned + listed === 0)
    return say(
      worked ? "has work in the plan, but no entry" : "is open, but neither planned nor listed as impossible",
    );
  if (planned > 0 && listed > 0) return say("is both planned and listed as impossible");
  if (planned + listed > 1) return say("is in the plan more than once");
  if (listed > 0 && worked) return say("is listed as impossible, but has work in the plan");
  if (planned > 0 && needsCrew(fact) && !worked) return say("is planned, but nobody works on it");
  if (planned > 0 && !needsCrew(fact) && worked) return say("needs no crew, but has work in the plan");
  return impossible.has(fact.key) ? checkImpossible(files, fact) : [];
}

function checkEntry({ evidence, chains }: Case, { fact, crew, start, end }: EntryFact): BrokenRule[] {
  const blocks = workOf(evidence, fact.key);
  const head = blocks[0];
  const say = (sentence: string): BrokenRule => ({
    ...brokenTask("format", fact, ""),
    sentence: `The plan's entry for ${sayTask(fact)} ${sentence}.`,
  });
  if (head === undefined) {
    // Within a chain it has its place in each unit, from the first to the last.
    const isInChain = findChainWork(chains, fact) !== undefined;
    const zeroLength = fact.trade !== null && !needsCrew(fact) && fact.task.status === "to-do" && !isInChain;
    return zeroLength && end !== start ? [say("lasts a while, but the task takes no time")] : [];
  }
  const broken: BrokenRule[] = [];
  const last = Math.max(...blocks.map((block) => block.end));
  // Work under way began before the plan: its entry may say when.
  if (start !== head.start && (fact.task.status === "to-do" || start > head.start)) {
    broken.push(say(`starts ${sayTime(start, fact.zone)}, its first work ${sayTime(head.start, fact.zone)}`));
  }
  if (end !== last)
    broken.push(say(`ends ${sayTime(end, fact.zone)}, its last work ${sayTime(last, fact.zone)}`));
  if (!blocks.some((block) => block.crew === crew))
    broken.push(say(`names crew "${crew?.id ?? "none"}", its work crew "${head.crew.id}"`));
  return broken;
}

/** How far behind the plan the checker looks for room. */
const DAYS_LOOKED_AT = 120;

/**
 * An ordinary task that follows only what is planned or done, and for which an eligible crew has room enough once all
 * else in the plan is over, is possible. Chains, equipment and published work are left to the planner's word.
 */
function checkImpossible(files: Case, fact: TaskFact): BrokenRule[] {
  const { evidence } = files;
  const { trade } = fact;
  const hasEquipment = Object.keys(fact.task.equipment).length > 0;
  if (trade === null || fact.task.opens || hasEquipment || findChainWork(files.chains, fact) !== undefined)
    return [];
  const over = Math.max(
    evidence.asOf,
    ...evidence.blocks.map((block) => block.end),
    ...evidence.entries.map((entry) => entry.end),
  );
  if (earliestByOthers(evidence, fact) > over) return [];
  const from = addDays(civilDateAt(over, evidence.zone), 1);
  for (const crew of evidence.company.crews) {
    const keeper = keeperOf(fact);
    const length = lengthOn(crew, fact);
    if (length === undefined || whyIneligible(crew, fact) !== null || (keeper !== null && keeper !== crew.id))
      continue;
    let room = 0;
    for (
      let date: CivilDate = from;
      date < addDays(from, DAYS_LOOKED_AT) && room < length.most;
      date = addDays(date, 1)
    ) {
      room += usableMinutes(evidence, crew, date, fact.job, trade, evidence.asOf);
    }
    if (room >= length.most) {
      return [
        {
          ...brokenTask(
            12,
            fact,
            `${sayTask(fact)} is listed as impossible, but crew ${crew.name} has the ${length.most} minutes for it from ${from} on.`,
          ),
          crew: crew.id,
        },
      ];
    }
  }
  return [];
}
