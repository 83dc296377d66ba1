/**
 * What a crew says from site: that it has begun or finished a task, how much is left, what it is stuck on, what it has
 * found, what it wants of the day. A report is a fact about what somebody said, and is kept whatever becomes of it.
 */
import { z } from "zod";
import { MAX_LABOR_HOURS, remarkSchema } from "./company-schema.js";
import type { CivilDate } from "./time.js";

export const STUCK_REASONS = ["material", "weather", "another-trade", "customer", "damage", "other"] as const;
export type StuckReason = (typeof STUCK_REASONS)[number];

export const DAMAGE_UNITS = ["sheets", "feet"] as const;
export type DamageUnit = (typeof DAMAGE_UNITS)[number];

/** What is found behind old cladding again and again; anything else is said in the crew's own words. */
export const DAMAGE_KINDS = ["sheathing", "framing", "sill", "insulation", "trim"] as const;

/** A crew has no more people than this. */
const MOST_PEOPLE = 100;
const MOST_AMOUNT = 100_000;

const laborHours = z.number().gt(0).max(MAX_LABOR_HOURS);
const few = z
  .string()
  .trim()
  .max(200)
  .refine((text) => remarkSchema.safeParse(text).success);

/** What is said, by kind. Of `start`, `done`, `hours-left`, `stuck` and `damage` the report names a task. */
export const reportBodySchema = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("start"), note: remarkSchema }),
  z.strictObject({ kind: z.literal("done"), note: remarkSchema }),
  z.strictObject({ kind: z.literal("hours-left"), hours: laborHours, note: remarkSchema }),
  z.strictObject({ kind: z.literal("stuck"), reason: z.enum(STUCK_REASONS), note: remarkSchema }),
  z.strictObject({
    kind: z.literal("damage"),
    area: few,
    what: few,
    /** In `unit`; null where nobody has counted yet. */
    amount: z.number().gt(0).max(MOST_AMOUNT).nullable(),
    unit: z.enum(DAMAGE_UNITS),
    /** Labor-hours on top; null where nobody knows yet. */
    hours: laborHours.nullable(),
    note: remarkSchema,
  }),
  z.strictObject({ kind: z.literal("stretch"), note: remarkSchema }),
  z.strictObject({
    kind: z.literal("short-handed"),
    missing: z.int().min(1).max(MOST_PEOPLE),
    note: remarkSchema,
  }),
]);

export type ReportBody = z.output<typeof reportBodySchema>;
export type ReportKind = ReportBody["kind"];

export const REPORT_KINDS = [
  "start",
  "done",
  "hours-left",
  "stuck",
  "damage",
  "stretch",
  "short-handed",
] as const satisfies readonly ReportKind[];

/** Kinds that are about the crew's day and not about a task. */
export const DAY_KINDS: ReadonlySet<ReportKind> = new Set(["stretch", "short-handed"]);

/** Kinds that say how far a task has come: of several, the one said last holds. */
export const PROGRESS_KINDS: ReadonlySet<ReportKind> = new Set(["start", "done", "hours-left"]);

/** Whether what was said is about another day: how far a task has come is so when it is said, on whichever page. */
export function isAboutAnotherDay(kind: ReportKind, date: CivilDate, saidOn: CivilDate): boolean {
  return date < saidOn || (date > saidOn && !PROGRESS_KINDS.has(kind));
}

/** What a report has met where the forecast could not simply take it in: which crews read in their language. */
export const MET = [
  "other-crew",
  "changed",
  "said-later",
  "done-already",
  "day-over",
  "too-far-ahead",
  "not-there",
  "nobody-left",
  "no-work",
  "not-possible",
] as const;
export type Met = (typeof MET)[number];

/** A report as it is kept. */
export interface SiteReport {
  readonly id: number;
  /** A UUID in small letters. */
  readonly key: string;
  /** The change that put it on record. */
  readonly version: number;
  readonly crewId: string;
  /** The day that it is about. */
  readonly date: CivilDate;
  /** Null where it is about the crew's day. */
  readonly jobId: string | null;
  readonly taskId: string | null;
  readonly body: ReportBody;
  readonly saidAt: Date;
  readonly receivedAt: Date;
  readonly saidBy: string;
  /** Whether the forecast has it. */
  readonly applied: boolean;
  /** What it has met, as the office reads it. */
  readonly meets: string | null;
  /** Of an older program's reports empty. */
  readonly met: readonly Met[];
  readonly settledAt: Date | null;
  readonly settledBy: string | null;
  /** Whether its change was taken back. */
  readonly isTakenBack: boolean;
}
