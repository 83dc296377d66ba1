/**
 * What passes between the process that serves people and the thread that plans for it. Everything here can be copied
 * from one thread to the other. One request is under way at a time, so that a message needs no name of its request.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import type { Minute } from "../domain/time.js";
import type { Wish } from "../planner/ways-out/wishes.js";
import type { Permissions } from "../planner/ways-out/way-out.js";

/** When a search ends by itself: at whichever comes first. Where neither is given, after the usual iterations. */
export interface PlanningBudget {
  /** Schedules built. With this alone a plan can be made again to the byte. */
  readonly iterations?: number;
  /** Of wall time, the first plan included. */
  readonly milliseconds?: number;
}

/** How far a search has come. */
export interface PlanningProgress {
  readonly iteration: number;
  /** Of the best plan so far. */
  readonly cost: number;
  /** Since the search began. */
  readonly milliseconds: number;
}

/** One word of shared memory, which the process writes and the thread reads between two steps. */
export const GO_ON = 0;
/** Stop, and explain the best so far. */
export const STOP = 1;
/** Stop; nobody waits for a plan any more. */
export const DROP = 2;

export interface PlanningRequest {
  readonly kind: "plan";
  readonly company: Company;
  readonly asOf: Minute;
  readonly seed: number;
  readonly budget: PlanningBudget;
  /** A plan that stands, to begin with. */
  readonly from?: Plan;
  /** One Int32: `GO_ON`, `STOP` or `DROP`. */
  readonly flag: SharedArrayBuffer;
  /** Whether the search may be stopped: then it leaves drafts, which are there at once. */
  readonly canStop: boolean;
}

/** Ways out of what has happened to a company. */
export interface WaysOrder {
  /** The company with the slip in it. */
  readonly company: Company;
  readonly asOf: Minute;
  readonly seed: number;
  /** The plan before the slip, as JSON text. */
  readonly standingText: string;
  readonly permissions: Permissions;
  /** What the dispatcher asks for by hand; null: nothing. */
  readonly wish: Wish | null;
  /** The key of the way whose plan is wanted too. */
  readonly open?: string;
  /** Whether the plan is wanted as it stands once it is published. */
  readonly toPublish?: boolean;
}

export interface WaysRequest extends WaysOrder {
  readonly kind: "ways";
}

export type ThreadRequest = PlanningRequest | WaysRequest;

/**
 * Plans travel as JSON text: for a large plan, to write, copy and read it takes half of what copying its objects takes.
 * `done` carries no text when the request was dropped.
 */
export type PlanningMessage =
  | { readonly kind: "draft"; readonly planText: string }
  | { readonly kind: "progress"; readonly progress: PlanningProgress }
  | { readonly kind: "done"; readonly planText: string | null }
  /** Ends a request for ways, with `FoundWays` as JSON. */
  | { readonly kind: "ways"; readonly text: string }
  | { readonly kind: "failed"; readonly error: unknown };
