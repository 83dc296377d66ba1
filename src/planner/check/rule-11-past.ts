/**
 * Rule 11: work under way stays with its crew and comes first; published work inside the freeze keeps crew and day, or
 * is listed with its reason (readings 19 and 20).
 */
import { parseCivilDate } from "../../domain/time.js";
import type { BrokenRule } from "./broken-rule.js";
import { brokenTask, type Case, type Check } from "./case.js";
import { dateOf } from "./crew-days.js";
import { keyOf, sayTask, workOf } from "./evidence.js";
import { listFrozenWork, listPublishedWork, type PublishedWork } from "./frozen.js";
import { listInterruptions } from "./rule-06-continuity.js";
import { keeperOf } from "./strands.js";

export const checkPast: Check = (files) => [
  ...listStrangers(files),
  ...listInterruptions(files, true),
  ...listMoved(files),
  ...listUnknownUnkept(files),
];

function listStrangers({ evidence }: Case): BrokenRule[] {
  return [...evidence.work.values()].flatMap((blocks) => {
    const head = blocks[0];
    const keeper = head === undefined ? null : keeperOf(head.task);
    const stranger = blocks.find((block) => block.crew.id !== keeper);
    if (head === undefined || keeper === null || stranger === undefined) return [];
    return [
      brokenTask(
        11,
        head.task,
        `${sayTask(head.task)} is under way with crew "${keeper}", but crew ${stranger.crew.name} goes on with it.`,
      ),
    ];
  });
}

function listMoved({ evidence }: Case): BrokenRule[] {
  const frozen = listFrozenWork(evidence);
  const isKept = (work: PublishedWork) =>
    workOf(evidence, work.key).some(
      (block) => block.crew.id === work.crewId && dateOf(evidence, block) === work.date,
    );
  const isExcused = (work: PublishedWork) =>
    evidence.impossible.has(work.key) ||
    evidence.plan.unkept.some(
      (item) =>
        keyOf(item.job, item.task) === work.key && item.crew === work.crewId && item.date === work.date,
    ) ||
    // Less was left than was published, or work under way came first: done by the same crew on the days before.
    (workOf(evidence, work.key).every(
      (block) => block.crew.id === work.crewId && dateOf(evidence, block) < work.date,
    ) &&
      (evidence.tasks.get(work.key)?.task.status === "under-way" ||
        frozen.some((other) => other.key === work.key && other.date < work.date && isKept(other))));
  const moved = new Map(
    frozen
      .filter((work) => !isKept(work) && !isExcused(work))
      .map((work) => [`${work.key} ${work.crewId} ${work.date}`, work]),
  );
  return [...moved.values()].flatMap((work) => {
    const fact = evidence.tasks.get(work.key);
    if (fact === undefined) return [];
    return [
      brokenTask(
        11,
        fact,
        `${sayTask(fact)} is published for crew "${work.crewId}" on ${work.date}, which the plan neither keeps nor lists as not kept.`,
      ),
    ];
  });
}

function listUnknownUnkept({ evidence }: Case): BrokenRule[] {
  const published = listPublishedWork(evidence);
  return evidence.plan.unkept
    .filter(
      (item) =>
        !published.some(
          (work) =>
            work.key === keyOf(item.job, item.task) &&
            work.crewId === item.crew &&
            work.date === parseCivilDate(item.date),
        ),
    )
    .map((item) => ({
      rule: 11,
      job: item.job,
      task: item.task,
      sentence: `The plan lists task "${item.task}" of job "${item.job}" for crew "${item.crew}" on ${item.date} as not kept, but it was not published.`,
    }));
}
