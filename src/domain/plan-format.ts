/**
 * The plan (`daylap-plan/1`): what the planner says and every reader reads. Times are ISO 8601 with the offset of the
 * site (work and what belongs to it) or of the company (the rest).
 */
import { z } from "zod";
import { blockSchema } from "./company-schema.js";

export const PLAN_FORMAT = "daylap-plan/1";

/** What can hold a task back, in the order in which the rules of the planning model name them. */
export const becauseKinds = [
  "start-of-plan",
  "crew-busy",
  "crew-off",
  "access",
  "no-light",
  "hold",
  "after-task",
  "curing",
  "not-before",
  "delivery",
  "wait",
  "close-by-dark",
  "equipment",
  "published",
] as const;

const text = z.strictObject({ en: z.string(), es: z.string() });
const taskRef = z.strictObject({ job: z.string(), task: z.string() });

export const becauseSchema = z.strictObject({
  kind: z.enum(becauseKinds),
  text,
  /** The task that is waited for: the one before it, the crew's other task, the one that holds the equipment. */
  by: taskRef.nullable(),
  /** When the constraint lets go. */
  until: z.string().nullable(),
  /** What binds together with it, in the order of the rules. */
  also: z.array(z.enum(becauseKinds)).optional(),
});

export const planSchema = z.strictObject({
  format: z.literal(PLAN_FORMAT),
  asOf: z.string(),
  seed: z.int(),
  iterations: z.int(),
  blocks: z.array(blockSchema),
  tasks: z.array(
    z.strictObject({
      job: z.string(),
      task: z.string(),
      /** Null for a wait, which needs no crew. */
      crew: z.string().nullable(),
      start: z.string(),
      end: z.string(),
      because: becauseSchema,
    }),
  ),
  days: z.array(
    z.strictObject({
      crew: z.string(),
      date: z.string(),
      job: z.string(),
      /** Null on a date without that event: `light` then says whether it is light or dark all day. */
      firstLight: z.string().nullable(),
      lastLight: z.string().nullable(),
      light: z.enum(["sun", "all-day", "none"]),
      /** The latest minute for work there that day, so that cover-up, cleanup and the way home still fit. */
      toolsDown: z.string().nullable(),
      /** (last light − margin) − shift end: positive is light left unused, negative is shift time that the dark takes. */
      lightInHandMinutes: z.int().nullable(),
      stretch: z.boolean(),
    }),
  ),
  impossible: z.array(z.strictObject({ job: z.string(), task: z.string(), why: z.string() })),
  /** Published blocks inside the freeze that could not be kept, and why (rule 11). */
  unkept: z.array(
    z.strictObject({
      job: z.string(),
      task: z.string(),
      crew: z.string(),
      date: z.string(),
      why: z.string(),
    }),
  ),
  cost: z.strictObject({
    lateDays: z.number(),
    idleCrewHours: z.number(),
    moves: z.number(),
    changes: z.number(),
    openNights: z.number(),
    overtimeCrewHours: z.number(),
    total: z.number(),
  }),
});

export type Plan = z.output<typeof planSchema>;
export type PlanBlock = Plan["blocks"][number];
export type PlanTask = Plan["tasks"][number];
export type PlanDay = Plan["days"][number];
export type Because = PlanTask["because"];
export type BecauseKind = (typeof becauseKinds)[number];
export type CostFigures = Plan["cost"];
export type Text = z.output<typeof text>;
