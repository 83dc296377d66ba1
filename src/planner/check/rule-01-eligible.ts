/** Rule 1: the crew has the trade, is strong enough, and is the named crew where one is named. */
import { brokenTask, type Check } from "./case.js";
import { sayTask, type TaskFact } from "./evidence.js";
import type { Crew } from "../../domain/company-schema.js";

export const checkEligible: Check = ({ evidence }) =>
  [...evidence.work.values()].flatMap((blocks) =>
    [...new Map(blocks.map((block) => [block.crew.id, block])).values()].flatMap(({ crew, task }) => {
      const why = whyIneligible(crew, task);
      return why === null
        ? []
        : [
            {
              ...brokenTask(1, task, `Crew ${crew.name} works on ${sayTask(task)}, but ${why}.`),
              crew: crew.id,
            },
          ];
    }),
  );

/** Why a crew may not work on a task, as the end of a sentence; null where it may. */
export function whyIneligible(crew: Crew, { task, trade }: TaskFact): string | null {
  if (trade !== null && crew.trades[trade.id] === undefined)
    return `does not have the trade ${trade.name.en}`;
  if (crew.size < task.minCrew) return `is ${crew.size} strong and the task asks for ${task.minCrew}`;
  // Under way, a task stays with whoever began it (rule 11), even if the office has since named another.
  const named = task.status === "under-way" && task.doneBy !== null ? null : task.crew;
  return named !== null && named !== crew.id ? `the task names crew "${named}"` : null;
}
