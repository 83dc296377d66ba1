/**
 * Rule 10: a task holds its equipment from its first start to its end, nights included; never more than there is. What is
 * under way holds it from the start of the plan, and only a task that the plan starts can be one too many.
 */
import type { BrokenRule } from "./broken-rule.js";
import { brokenTask, type Check } from "./case.js";
import { sayTask, sayTime, type EntryFact } from "./evidence.js";
import { endOfTask, startOfTask } from "./unit-work.js";

export const checkEquipment: Check = ({ evidence }) => {
  const spans = [...evidence.entryOf.values()].map((entry) => ({
    fact: entry.fact,
    start: isUnderWay(entry) ? -Infinity : (startOfTask(evidence, entry.fact) ?? entry.start),
    end: endOfTask(evidence, entry.fact) ?? entry.end,
  }));
  return evidence.company.equipment.flatMap((equipment) => {
    const users = spans.flatMap(({ fact, start, end }) => {
      const count = fact.task.equipment[equipment.id] ?? 0;
      return count > 0 && end > start ? [{ fact, start, end, count }] : [];
    });
    return users.flatMap((user): BrokenRule[] => {
      const together = users.filter((other) => other.start <= user.start && user.start < other.end);
      const needed = together.reduce((sum, other) => sum + other.count, 0);
      if (user.start === -Infinity || needed <= equipment.count) return [];
      const others = together.filter((other) => other !== user).map((other) => sayTask(other.fact));
      const sentence =
        `${sayTask(user.fact)} starts ${sayTime(user.start, user.fact.zone)} and then ${needed} of ${equipment.name} are in use` +
        `, of which there is ${equipment.count}${others.length > 0 ? `; the others are held by ${others.join(", ")}` : ""}.`;
      return [brokenTask(10, user.fact, sentence)];
    });
  });
};

const isUnderWay = ({ fact }: EntryFact): boolean => fact.task.status === "under-way";
