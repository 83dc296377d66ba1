/**
 * What the larger actions of a desk use of it: what stands, who plans and checks, and the one way to write. Each action
 * has a file of its own; company-desk.ts keeps what they share.
 */
import type { Source } from "../domain/company-parts.js";
import type { Company } from "../domain/company-schema.js";
import type { Actor } from "../domain/person.js";
import type { Result } from "../domain/result.js";
import type { DecideWrite, StoredCompany } from "../store/company-store.js";
import type { Database } from "../store/database.js";
import type { ChangeEntry } from "../store/record-store.js";
import type { ChangeFailure } from "./changes/company-change.js";
import type { Clock } from "./clock.js";
import type { DeskPlans, StandingPlan } from "./desk-plans.js";
import type { CheckPlan } from "./plan-checker.js";
import type { PlanningWorker } from "./planning-worker.js";
import type { Publication } from "./publication.js";

/** A version of the company with its plan. */
export interface Standing {
  readonly stored: StoredCompany;
  readonly source: Source;
  readonly company: Company;
  readonly plan: StandingPlan;
  readonly publication: Publication | null;
}

export interface DeskDoor {
  readonly database: Database;
  readonly clock: Clock;
  readonly seed: number;
  readonly worker: PlanningWorker;
  readonly checkPlan: CheckPlan;
  readonly plans: DeskPlans;
  /** Undefined where no company has been loaded. */
  standing(): Standing | undefined;
  /**
   * Writes, and resolves when what stands has it; where `patienceMs` is given, no later than so long after it is written,
   * and what stands follows by itself.
   */
  write(decide: DecideWrite<ChangeFailure>, patienceMs?: number): Promise<Result<void, ChangeFailure>>;
  entry(kind: string, sentence: string, by: Actor, why: string): ChangeEntry;
}

export const EMPTY: ChangeFailure = {
  kind: "refused",
  refusal: { kind: "no-company", sentence: "There is no company yet. Load a company file first." },
};
