/** A slip: something that has happened to the plan, before it is written. Every slip is a change of the company. */
import type { CompanyChange } from "./changes/company-change.js";

/** Kinds of changes that open the page of ways out. */
export const SLIP_KINDS = [
  "hours-added",
  "day-off-added",
  "delivery-changed",
  "hold-added",
  "task-added",
  "promise-moved",
  "job-paused",
] as const;
export type SlipKind = (typeof SLIP_KINDS)[number];
export type Slip = Extract<CompanyChange, { kind: SlipKind }>;
