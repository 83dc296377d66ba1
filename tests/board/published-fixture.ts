/** The small company of the fixture with its plan published, and plans that have drifted from it. */
import type { PublishedBlock } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { civilDate } from "../../src/domain/time.js";
import type { PublishedBy } from "../../src/board/promise.js";
import { buildReading, type Reading } from "../../src/board/reading.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";

export const TODAY = civilDate("2026-12-07");
export const TUESDAY = civilDate("2026-12-08");
export const WEDNESDAY = civilDate("2026-12-09");
export const THURSDAY = civilDate("2026-12-10");
export const BY: PublishedBy = {
  madeAt: new Date("2026-12-07T20:30:00Z"),
  personName: "Robin",
  why: "",
  kind: "plan-published",
  plan: decemberPlan(),
};

/** What came with a company file: its blocks are known, and no plan. */
export const LOADED: PublishedBy = { ...BY, kind: "company-loaded", plan: null };

export type Blocks = Plan["blocks"];
export const toPublished = (blocks: Blocks, isReleased: (block: Blocks[number]) => boolean = () => false) =>
  blocks.map((block): PublishedBlock => ({ ...block, released: isReleased(block) }));

/** The reading of a plan where other blocks are published. */
export function read(published: readonly PublishedBlock[] | null, plan: Plan = decemberPlan()): Reading {
  return buildReading({ ...decemberCompany(), published }, plan);
}

export const on = (date: string, clock: string): string => `2026-12-${date}T${clock}:00-05:00`;

/** The fixture with Alder's siding a day later than published, or what another crew does on Tuesday. */
export function delayed(crew = "alder"): Plan {
  const plan = decemberPlan();
  const later = (text: string): string => text.replace("12-08T", "12-09T");
  return {
    ...plan,
    blocks: plan.blocks.map((block) =>
      block.crew === crew ? { ...block, start: later(block.start), end: later(block.end) } : block,
    ),
    tasks: plan.tasks.map((task) =>
      task.crew === crew ? { ...task, start: later(task.start), end: later(task.end) } : task,
    ),
    days: plan.days.map((day) => (day.crew === crew ? { ...day, date: "2026-12-09" } : day)),
  };
}
