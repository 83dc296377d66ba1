/**
 * The dispatcher's desk: the company as it stands, its plan, and the changes that people make to it.
 * Only the interface, so that a page or a test can stand on it; company-desk.ts keeps it in the database.
 */
import type { Fault } from "../domain/company-file.js";
import type { PartKey, Source } from "../domain/company-parts.js";
import type { Company } from "../domain/company-schema.js";
import type { Actor } from "../domain/person.js";
import type { Plan } from "../domain/plan-format.js";
import type { Result } from "../domain/result.js";
import type { CivilDate, Minute } from "../domain/time.js";
import type { ChangeFailure, CompanyChange } from "./changes/company-change.js";
import type { MoveRefusal, MoveWish } from "../planner/moving/move-refusal.js";
import type { MoveFound } from "./move-planner.js";
import type { PlanningProgress } from "./planning-messages.js";
import type { Publication } from "./publication.js";
import type { ReportInput, ReportTaken } from "./report-action.js";
import type { TakeWay, WaysAsk, WaysShown } from "./ways.js";

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
  /** The company file's JSON, with nothing filled in. */
  readonly source: Source;
  readonly plan: Plan;
  /** The number under which the plan is kept. */
  readonly planId: number;
  /** The date of `nowMinute` in the company's zone. */
  readonly today: CivilDate;
  /** Now, or the fixed as-of time where there is one. */
  readonly nowMinute: Minute;
  /** Counts the changes. A better plan for the same company is no change. */
  readonly version: number;
  /** The version at which a part was written last, for a form to carry; 0 for a part that is not there. */
  readonly versionOf: (key: PartKey) => number;
  /** How far the search for a better plan has come; null where none goes on. */
  readonly planning: PlanningProgress | null;
  /** Who made `company.published` the promise, and when; null where nothing is published. */
  readonly publication: Publication | null;
}

/** A plan that a person wants to be the promise. */
export interface PublishInput {
  /** The plan that she has seen; where another one stands, nothing is published. */
  readonly planId: number;
  readonly why?: string;
}

/** What a move by hand would mean, and what it takes to make exactly this one. */
export interface MovePreview {
  readonly found: Omit<MoveFound, "plan">;
  readonly token: MoveToken;
}

/** Names the plan after a move: made of that plan, as of that minute, it is the one with that digest. */
export interface MoveToken {
  readonly planId: number;
  readonly asOf: Minute;
  readonly digest: string;
}

export interface Desk {
  /** Whether no company has been loaded yet. */
  readonly isEmpty: boolean;
  /** What stands; never asked of an empty desk. */
  current(): DeskState;
  /**
   * Calls back each time when something else stands, whichever process changed it: another version of the company,
   * another plan of the same one, or a mark of the office on a report. What is given back ends it.
   */
  onChange(listener: () => void): () => void;
  /** Makes a change, puts it on record and plans again; resolves when what stands has it. */
  make(change: CompanyChange, by: Actor): Promise<Result<void, ChangeFailure>>;
  /**
   * Takes a report from site in, once for its key however often it is sent: what it changes of the forecast, the report
   * itself and the row on record in one transaction. Whatever it meets, it is kept. Resolves when what stands has it, or
   * at the latest `patienceMs` after it is kept.
   */
  report(input: ReportInput, by: Actor, patienceMs?: number): Promise<Result<ReportTaken, ChangeFailure>>;
  /**
   * Makes the plan that stands the promise that crews see, with the calls to make and the row on record, all in one
   * transaction; the plan stays as it is. Refused where it breaks a rule.
   */
  publish(input: PublishInput, by: Actor): Promise<Result<void, ChangeFailure>>;
  /** What a move by hand would mean, or which rule forbids it; nothing is changed. */
  planMove(wish: MoveWish): Promise<Result<MovePreview, MoveRefusal>>;
  /** Makes a move; the plan that was shown then stands. Where that plan cannot be made any more, nothing is done. */
  move(wish: MoveWish, shown: MoveToken, by: Actor, why: string): Promise<Result<void, ChangeFailure>>;
  /** The ways out of a slip, or of what stands, side by side; nothing is changed. */
  compareWays(ask: WaysAsk): Promise<Result<WaysShown, ChangeFailure>>;
  /**
   * Takes a way that was shown: slip, permissions, what is published, calls and plan in one transaction. Where it cannot
   * be made any more as it was shown, nothing is done.
   */
  takeWay(order: TakeWay, by: Actor): Promise<Result<void, ChangeFailure>>;
  /** Takes the change of that version back, where nothing that stands depends on it. */
  undo(version: number, by: Actor, why: string): Promise<Result<void, ChangeFailure>>;
  /**
   * Puts a whole company in the place of what stands, or tells every fault of it. With `seen`, only in the place of that
   * version, which is 0 where none has been loaded yet.
   */
  load(source: unknown, by: Actor, why: string, seen?: number): Promise<Result<void, readonly Fault[]>>;
}
