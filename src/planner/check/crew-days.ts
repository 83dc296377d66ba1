/**
 * A crew's day taken apart into stays: one stay is what it does at one house with no other house between (reading 6).
 * Travel and load lie in the gaps before, between and after the stays.
 */
import type { Crew, Job, Trade } from "../../domain/company-schema.js";
import { present } from "../../domain/result.js";
import { addDays, civilDateAt, type CivilDate, type Interval } from "../../domain/time.js";
import { isWork, type BlockFact, type Evidence, type WorkFact } from "./evidence.js";
import { mealBreakOf, shiftAt } from "./shift.js";

/** From the first to the last block at the house. */
export interface Stay extends Interval {
  readonly job: Job;
  readonly blocks: readonly BlockFact[];
  readonly work: readonly WorkFact[];
  /** The trades worked in it, each once. */
  readonly trades: readonly Trade[];
}

export interface CrewDay {
  readonly crew: Crew;
  readonly date: CivilDate;
  readonly blocks: readonly BlockFact[];
  readonly stays: readonly Stay[];
  /** Load and travel before stay 0, before stay 1, …, after the last: one more than there are stays. */
  readonly gaps: readonly (readonly BlockFact[])[];
  /** Travel or load in the middle of a stay. */
  readonly strays: readonly BlockFact[];
  /** With all of the day's stretching; null where the crew has none. */
  readonly shift: Interval | null;
  readonly mealBreak: Interval | null;
}

/** Every day on which a crew has a block, by crew and date. */
export function listCrewDays(evidence: Evidence): CrewDay[] {
  const groups = new Map<string, { crew: Crew; date: CivilDate; blocks: BlockFact[] }>();
  for (const block of evidence.blocks) {
    const date = dateOf(evidence, block);
    const key = `${block.crew.id} ${date}`;
    const group = groups.get(key) ?? { crew: block.crew, date, blocks: [] };
    group.blocks.push(block);
    groups.set(key, group);
  }
  return [...groups.values()].map(({ crew, date, blocks }) => {
    const taken = takeApart(blocks);
    const shift = shiftAt(
      evidence,
      crew,
      date,
      taken.stays.map((stay) => stay.job),
    );
    return { crew, date, blocks, ...taken, shift, mealBreak: mealBreakOf(evidence, shift) };
  });
}

/** The crew's day that a block belongs to: late on a stretch day it may be past midnight. */
export function dateOf(evidence: Evidence, block: BlockFact): CivilDate {
  const date = civilDateAt(block.start, evidence.zone);
  const before = addDays(date, -1);
  if (!block.crew.stretch.includes(before)) return date;
  const late = shiftAt(evidence, block.crew, before, evidence.company.jobs);
  const own = shiftAt(evidence, block.crew, date, []);
  return late !== null && block.start < late.end && (own === null || block.start < own.start) ? before : date;
}

function takeApart(blocks: readonly BlockFact[]): Pick<CrewDay, "stays" | "gaps" | "strays"> {
  const groups: BlockFact[][] = [];
  const gaps: BlockFact[][] = [[]];
  const strays: BlockFact[] = [];
  for (const block of blocks) {
    if (block.kind === "break") continue;
    const gap = present(gaps.at(-1), "a gap");
    if (block.kind === "load" || block.kind === "travel" || block.job === null) {
      gap.push(block);
    } else if (groups.at(-1)?.[0]?.job === block.job) {
      present(groups.at(-1), "a stay").push(block);
      strays.push(...gap.splice(0));
    } else {
      groups.push([block]);
      gaps.push([]);
    }
  }
  return { stays: groups.map(toStay), gaps, strays };
}

function toStay(blocks: readonly BlockFact[]): Stay {
  const first = present(blocks[0], "first block of a stay");
  const work = blocks.filter(isWork);
  return {
    job: present(first.job, "house of a stay"),
    blocks,
    work,
    trades: [...new Set(work.flatMap((block) => block.task.trade ?? []))],
    start: first.start,
    end: Math.max(...blocks.map((block) => block.end)),
  };
}
