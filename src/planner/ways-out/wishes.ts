/**
 * What a dispatcher asks for by hand. A wish becomes edits of the company, which no plan can get around, and a place in the
 * order to hold; or a refusal that names what forbids it.
 */
import type { Company } from "../../domain/company-schema.js";
import type { Plan } from "../../domain/plan-format.js";
import { fail, ok, type Result } from "../../domain/result.js";
import type { CivilDate, Minute } from "../../domain/time.js";
import type { CompanyEdit } from "./company-edits.js";
import { applyKeepCrew } from "./wish-keep-crew.js";
import { applyPinCrew } from "./wish-pin-crew.js";
import { applyPinDay } from "./wish-pin-day.js";
import { applySwapCrews } from "./wish-swap-crews.js";

export interface PinCrew {
  /** This crew works the task. */
  readonly kind: "pin-crew";
  readonly job: string;
  readonly task: string;
  readonly crew: string;
}

export interface PinDay {
  /** The task starts on that day (of the house's calendar). */
  readonly kind: "pin-day";
  readonly job: string;
  readonly task: string;
  readonly date: CivilDate;
}

export interface SwapCrews {
  /** What two crews start on a day by the standing plan they do the other way round. */
  readonly kind: "swap-crews";
  readonly crews: readonly [string, string];
  readonly date: CivilDate;
}

export interface KeepCrew {
  /** A crew works at no other house before its tasks at its present one are done. */
  readonly kind: "keep-crew";
  readonly crew: string;
}

export type Wish = PinCrew | PinDay | SwapCrews | KeepCrew;

/** Why a wish cannot be kept. */
export interface WishRefusal {
  readonly kind: "wish-refused";
  readonly wish: Wish;
  /** Names what forbids it. */
  readonly sentence: string;
}

/** What a wish is applied to: the company and the order to hold, with earlier wishes in both. */
export interface WishCase {
  readonly company: Company;
  readonly asOf: Minute;
  readonly order: Plan;
}

/** What becomes of it. */
export interface AppliedWish {
  readonly edits: readonly CompanyEdit[];
  readonly order: Plan;
}

/** A sentence where the wish is refused. */
export type WishResult = Result<AppliedWish, string>;

export function applyWish(files: WishCase, wish: Wish): Result<AppliedWish, WishRefusal> {
  const applied = applyByKind(files, wish);
  return applied.ok ? ok(applied.value) : fail({ kind: "wish-refused", wish, sentence: applied.error });
}

function applyByKind(files: WishCase, wish: Wish): WishResult {
  switch (wish.kind) {
    case "pin-crew":
      return applyPinCrew(files, wish);
    case "pin-day":
      return applyPinDay(files, wish);
    case "swap-crews":
      return applySwapCrews(files, wish);
    case "keep-crew":
      return applyKeepCrew(files, wish);
  }
}
