/**
 * What a person can change of a company, each kind with what it does and what the record says of it. A new kind is a
 * file beside this one, an entry in `CompanyChange` and one in RULES.
 */
import type { Fault } from "../../domain/company-file.js";
import type { PartKey, Source } from "../../domain/company-parts.js";
import type { Company } from "../../domain/company-schema.js";
import type { Result } from "../../domain/result.js";
import type { Minute } from "../../domain/time.js";
import type { RecordedChange } from "../../store/record-store.js";
import type { Refusal } from "../desk.js";
import { crewLanguageRule, type CrewLanguageChanged } from "./crew-language.js";
import { dayOffAddedRule, dayOffRemovedRule, type DayOffAdded, type DayOffRemoved } from "./days-off.js";
import { deliveryChangedRule, type DeliveryChanged } from "./deliveries.js";
import { holdAddedRule, holdChangedRule, holdLiftedRule } from "./holds.js";
import type { HoldAdded, HoldChanged, HoldLifted } from "./holds.js";
import { hoursAddedRule, type HoursAdded } from "./hours-added.js";
import { jobPausedRule, type JobPaused } from "./job-paused.js";
import { taskMovedRule, type TaskMoved } from "./moves.js";
import { promiseMovedRule, type PromiseMoved } from "./promised-date.js";
import { sheetKeptRule, sheetReleasedRule, type SheetKept, type SheetReleased } from "./published-sheets.js";
import { taskAddedRule, type TaskAdded } from "./task-added.js";
import { taskProgressRule, type TaskProgress } from "./task-progress.js";

export type CompanyChange =
  | HoldAdded
  | HoldChanged
  | HoldLifted
  | DayOffAdded
  | DayOffRemoved
  | CrewLanguageChanged
  | DeliveryChanged
  | TaskProgress
  | TaskMoved
  | HoursAdded
  | TaskAdded
  | PromiseMoved
  | JobPaused
  | SheetReleased
  | SheetKept;
export type ChangeKind = CompanyChange["kind"];

/** What every kind of change may say. */
export interface ChangeBase {
  /** In the words of the person who makes it. */
  readonly why?: string;
  /** The version of the part that the person had before her; where it has been written since, nothing is done. */
  readonly seen?: number;
}

/** A company as it stands: the file's JSON with nothing filled in, and as the house reads it. */
export interface CompanyDocument {
  readonly source: Source;
  readonly company: Company;
  /** When the change is made. */
  readonly nowMinute: Minute;
}

/** Why a change did not happen. Nothing was changed. */
export type ChangeFailure =
  | NotDone
  /** Others have written the same part since the person saw it: these changes, oldest first. */
  | { readonly kind: "stale"; readonly since: readonly RecordedChange[] };

/** The same, as far as the change alone can say. */
export type NotDone =
  /** What was asked for, or what it would write, is at fault; paths are those of the company file. */
  | { readonly kind: "faults"; readonly faults: readonly Fault[] }
  | { readonly kind: "refused"; readonly refusal: Refusal };

export interface ChangeRule<C extends CompanyChange = CompanyChange> {
  /** The part that is edited; undefined where a new one comes in. */
  readonly target: (change: C) => PartKey | undefined;
  /** The JSON after the change, to be checked as a whole by whoever asked; or why it cannot be. */
  readonly apply: (document: CompanyDocument, change: C) => Result<Source, NotDone>;
  /** One finished sentence for the record, in the words of the office, of the company as it was before. */
  readonly say: (company: Company, change: C) => string;
}

const RULES: { readonly [Kind in ChangeKind]: ChangeRule<Extract<CompanyChange, { kind: Kind }>> } = {
  "hold-added": holdAddedRule,
  "hold-changed": holdChangedRule,
  "hold-lifted": holdLiftedRule,
  "day-off-added": dayOffAddedRule,
  "day-off-removed": dayOffRemovedRule,
  "crew-language": crewLanguageRule,
  "delivery-changed": deliveryChangedRule,
  "task-progress": taskProgressRule,
  "task-moved": taskMovedRule,
  "hours-added": hoursAddedRule,
  "task-added": taskAddedRule,
  "promise-moved": promiseMovedRule,
  "job-paused": jobPausedRule,
  "sheet-released": sheetReleasedRule,
  "sheet-kept": sheetKeptRule,
};

/** The rule of a change's kind. */
export function ruleOf(change: CompanyChange): ChangeRule {
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion -- RULES has for each kind the rule of that kind.
  return RULES[change.kind] as ChangeRule;
}
