/**
 * What a way out of a slip is: its types and its figures, and which ways are worth showing (DEVELOPERS.md, readings 27 to
 * 35). Amounts are those of the planning model; crew-hours are hours of a whole crew.
 */
import type { Company } from "../../domain/company-schema.js";
import type { CostFigures, Plan } from "../../domain/plan-format.js";
import type { CivilDate, Minute } from "../../domain/time.js";
import type { CompanyEdit } from "./company-edits.js";
import type { PlanDifference } from "./plan-difference.js";

/** "hold": every crew keeps its tasks and their order. The others are permissions that a way makes use of. */
export type WayKind = "hold" | "resequence" | "lend" | "stretch" | "saturday";

/** What the dispatcher allows. */
export interface Permissions {
  /** Crews may do their tasks in another order. */
  readonly resequence: boolean;
  /** Another crew that has the trade may take tasks that nobody has begun. */
  readonly lend: boolean;
  /** Days that may run to last light. */
  readonly stretch: readonly CivilDate[];
  /** Days that may be worked besides the week. */
  readonly saturday: readonly CivilDate[];
  /** Crews whose hours may be made longer, by id; where left out, the company's own crews. */
  readonly crews?: readonly string[];
}

export interface WaysOutOptions {
  /** Nothing is planned before. */
  readonly asOf: Minute;
  /** Whole number; decides where the search looks. */
  readonly seed: number;
  /** Schedules that are built for each way that is searched for; where left out, fewer for larger companies. */
  readonly iterations?: number;
  /** The plan before the slip: its order is the order to hold, its crews are those that lend. */
  readonly standing: Plan;
  readonly permissions: Permissions;
}

/** One thing that a way does by permission. */
export type PermissionUse =
  /** A crew-day that runs to last light: minutes of light behind the shift, and those of them that are worked. */
  | {
      readonly kind: "stretch";
      readonly crew: string;
      readonly date: CivilDate;
      readonly minutes: number;
      readonly usedMinutes: number;
    }
  /** A day worked besides the week: its hours, their minutes less the meal break, and those from first to last block. */
  | {
      readonly kind: "saturday";
      readonly crew: string;
      readonly date: CivilDate;
      readonly hours: readonly [string, string];
      readonly minutes: number;
      readonly usedMinutes: number;
    }
  /** A task that another crew takes than in the standing plan; without permission where its own can never work it. */
  | {
      readonly kind: "lend";
      readonly job: string;
      readonly task: string;
      readonly from: string;
      readonly to: string;
    };

/** The same rows for each way. */
export interface WayFigures {
  /** Houses whose promised date is missed and was not before. */
  readonly promisesBroken: number;
  /** Houses whose promised date was missed before and is kept. */
  readonly promisesSaved: number;
  /** Days late of all houses, as in the plan's cost. */
  readonly lateDays: number;
  /** Tasks that another crew works, or on other dates. */
  readonly tasksMoved: number;
  readonly idleCrewHours: number;
  readonly overtimeCrewHours: number;
  readonly moves: number;
  readonly openNights: number;
  readonly calls: number;
  /** Tasks that the plan cannot hold. */
  readonly leftOut: number;
  /** The plan's total. */
  readonly cost: number;
}

/** A complete plan of the company with the permissions in it, and what it means. */
export interface WayOut {
  /** Unique among the ways of one slip: its kinds joined by "+", behind "wish" where it keeps wishes. */
  readonly key: string;
  readonly kinds: readonly WayKind[];
  /** The company that the plan is of: wishes and used permissions are in it. */
  readonly company: Company;
  /** What makes that company of the one that was given. */
  readonly edits: readonly CompanyEdit[];
  readonly permissionsUsed: readonly PermissionUse[];
  /** Crew-hours that stretched and extra days give, and those of them that are worked. */
  readonly crewHoursGained: number;
  readonly crewHoursUsed: number;
  /** Against what is published; where nothing is, against the standing plan. */
  readonly difference: PlanDifference;
  readonly figures: WayFigures;
  /** The whole plan, with a reason for every start; made when first asked for, then kept. */
  explain(): Plan;
  /** The same plan read against `company`, which is this way's with other work published: the way's own, when it is taken. */
  explainFor(company: Company): Plan;
}

/** The figures of a plan and its difference. */
export function toFigures(cost: CostFigures, leftOut: number, difference: PlanDifference): WayFigures {
  const count = (kind: string): number => difference.promises.filter((one) => one.kind === kind).length;
  return {
    promisesBroken: count("broken"),
    promisesSaved: count("saved"),
    lateDays: cost.lateDays,
    tasksMoved: difference.moved.length,
    idleCrewHours: cost.idleCrewHours,
    overtimeCrewHours: cost.overtimeCrewHours,
    moves: cost.moves,
    openNights: cost.openNights,
    calls: difference.calls.length,
    leftOut,
    cost: cost.total,
  };
}

/** Of each figure, 1 where less is better and −1 where more is. */
const WORSE = {
  promisesBroken: 1,
  promisesSaved: -1,
  lateDays: 1,
  tasksMoved: 1,
  idleCrewHours: 1,
  overtimeCrewHours: 1,
  moves: 1,
  openNights: 1,
  calls: 1,
  leftOut: 1,
  cost: 1,
} satisfies Record<keyof WayFigures, 1 | -1>;

export const figureNames = Object.keys(WORSE) as readonly (keyof WayFigures)[];

/** Differences smaller than this are those of adding up in another order. */
const TOLERANCE = 1e-6;

/** Whether no figure of one is better than that of the other. */
export function isNoBetter(one: WayFigures, other: WayFigures): boolean {
  return figureNames.every((name) => (one[name] - other[name]) * WORSE[name] > -TOLERANCE);
}

/** `one` − `other`, figure by figure. */
export function subtractFigures(one: WayFigures, other: WayFigures): WayFigures {
  const figures = { ...one };
  for (const name of figureNames) figures[name] -= other[name];
  return figures;
}

/**
 * The ways worth showing, in their order: without those that are in no figure better than another one. Of ways with equal
 * figures the first is kept, so let those with fewer permissions come first. The first of all is always kept.
 */
export function withoutDominated<W extends { readonly figures: WayFigures }>(ways: readonly W[]): W[] {
  return ways.filter(
    (way, place) =>
      place === 0 ||
      !ways.some(
        (other, otherPlace) =>
          other !== way &&
          isNoBetter(way.figures, other.figures) &&
          (otherPlace < place || !isNoBetter(other.figures, way.figures)),
      ),
  );
}
