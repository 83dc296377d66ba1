/** What was published and must keep its crew and its day (rule 11, reading 20). */
import type { PublishedBlock } from "../../domain/company-schema.js";
import { present } from "../../domain/result.js";
import {
  addDays,
  civilDateAt,
  dayStart,
  parseInstant,
  type CivilDate,
  type Minute,
} from "../../domain/time.js";
import { keyOf, type Evidence } from "./evidence.js";

export interface PublishedWork {
  /** Of the task. */
  readonly key: string;
  readonly crewId: string;
  readonly date: CivilDate;
  readonly start: Minute;
  readonly released: boolean;
}

/** The work of the published plan, on the crew's dates. */
export function listPublishedWork({ company, zone }: Evidence): PublishedWork[] {
  const isWorkBlock = (block: PublishedBlock) =>
    block.kind === "work" && block.job !== null && block.task !== null;
  return (company.published ?? []).filter(isWorkBlock).map((block) => {
    const start = present(parseInstant(block.start, zone), "start of a published block");
    const key = keyOf(block.job ?? "", block.task ?? "");
    return { key, crewId: block.crew, date: civilDateAt(start, zone), start, released: block.released };
  });
}

/** Of that, what the freeze still holds: neither released, nor begun before the plan, nor done. */
export function listFrozenWork(evidence: Evidence): PublishedWork[] {
  const { asOf, zone, company } = evidence;
  const end = dayStart(addDays(civilDateAt(asOf, zone), company.policy.freezeDays + 1), zone);
  return listPublishedWork(evidence).filter((work) => {
    const fact = evidence.tasks.get(work.key);
    return (
      !work.released &&
      work.start >= asOf &&
      work.start < end &&
      fact !== undefined &&
      fact.task.status !== "done"
    );
  });
}
