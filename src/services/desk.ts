/**
 * The dispatcher's desk: the company as it stands, its plan, and the changes that a person makes to it.
 * Only the interface, so that a page or a test can stand on it; file-desk.ts keeps it in a company file.
 */
import type { Company } from "../domain/company-schema.js";
import type { Fault } from "../domain/company-file.js";
import type { Plan } from "../domain/plan-format.js";
import type { Result } from "../domain/result.js";
import type { CivilDate, Minute } from "../domain/time.js";
import type { PlanningProgress } from "./planning-messages.js";

/** A request that was understood and is not allowed; `sentence` is for the person who made it. */
export interface Refusal {
  readonly kind: string;
  readonly sentence: string;
}

/** A hold as a person enters it. */
export interface HoldInput {
  /** ISO 8601; without an offset it is wall time of each house that it holds. */
  readonly from: string;
  /** The end, itself no longer held. */
  readonly to: string;
  readonly trades: "outdoor" | "all" | readonly string[];
  readonly jobs: "all" | readonly string[];
  readonly why: string;
}

/** What stands now. All parts belong together: the plan is the plan of this company. */
export interface DeskState {
  readonly company: Company;
  readonly plan: Plan;
  /** The date of `nowMinute` in the company's zone. */
  readonly today: CivilDate;
  /** Now, or the fixed as-of time where there is one. */
  readonly nowMinute: Minute;
  /** Counts up by one with each change and each new day. A better plan for the same company is no change. */
  readonly version: number;
  /** How far the search for a better plan has come; null where none goes on. */
  readonly planning: PlanningProgress | null;
}

export interface Desk {
  current(): DeskState;
  /** Adds a hold and plans again. Faults carry the path of the field in the company file (`holds[2].from`). */
  addHold(input: HoldInput): Promise<Result<void, readonly Fault[]>>;
  /** Takes a hold away and plans again. */
  liftHold(id: string): Promise<Result<void, Refusal>>;
}
