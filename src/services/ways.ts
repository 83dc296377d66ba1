/**
 * Ways out as the desk deals with them: what is asked, what is shown, what is taken. Nothing of a slip is written before
 * a way is taken; until then it is a value that travels with the question.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { Minute } from "../domain/time.js";
import type { Permissions } from "../planner/ways-out/way-out.js";
import type { Wish } from "../planner/ways-out/wishes.js";
import type { FoundWay, FoundWish } from "./found-ways.js";
import type { Slip } from "./slip.js";

/** Where ways are to lead out of, and by what means. */
export interface WaysInput {
  /** What has happened; null: nothing, the dispatcher looks for another plan. */
  readonly slip: Slip | null;
  readonly permissions: Permissions;
  /** What she asks for by hand. */
  readonly wish: Wish | null;
}

export interface WaysAsk extends WaysInput {
  /** The key of the way to open. */
  readonly open?: string;
}

/** What a comparison was made of; with the same, the same comparison comes out. */
export interface WaysBasis {
  /** Of the company before the slip. */
  readonly version: number;
  /** The plan before the slip. */
  readonly planId: number;
  readonly asOf: Minute;
}

export interface WaysShown {
  readonly basis: WaysBasis;
  /** The sentence that the record will have of the slip. */
  readonly slipSentence: string | null;
  /** With the slip in it. */
  readonly company: Company;
  /** The company and its plan before the slip. */
  readonly before: { readonly company: Company; readonly plan: Plan };
  readonly ways: readonly FoundWay[];
  /** What the wish costs, or why it cannot be kept; null where nothing was wished for. */
  readonly wish: FoundWish | null;
  readonly opened: { readonly way: FoundWay; readonly company: Company; readonly plan: Plan } | null;
}

/** A way that was shown and is to be taken. */
export interface TakeWay extends WaysInput {
  readonly basis: WaysBasis;
  readonly key: string;
  readonly digest: string;
  /** Whether the way becomes the promise that crews see; otherwise it is only the plan that stands. */
  readonly publish: boolean;
  readonly why: string;
}

/** What a way's plan is kept with, to be made again. */
export interface WayOrigin extends WaysInput {
  readonly key: string;
  readonly published: boolean;
}
