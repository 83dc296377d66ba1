/**
 * What PSPLIB and MPLIB files describe: activities with lengths, an order without lags, and renewable resources with
 * a constant number of units. The planner is given resources as equipment; activities take no crew.
 */
import type { OpenTimeInput } from "../../../src/planner/core/open-problem.js";
import { refuseCircles } from "./precedence-circle.js";

export interface ProjectActivity {
  /** As in the file: `12`, or `3:12` for activity 12 of project 3. */
  readonly name: string;
  /** Line of the file that gives its length. */
  readonly line: number;
  readonly minutes: number;
  /** Units needed throughout, by resource. */
  readonly demands: readonly number[];
  /** Places in the list of activities. */
  readonly successors: readonly number[];
  readonly releaseMinute: number;
}

export interface ProjectInstance {
  /** Units there are, by resource. */
  readonly capacities: readonly number[];
  readonly activities: readonly ProjectActivity[];
}

/** Dummies stay: they are tasks of length 0. A circle is an `InstanceFault`. */
export function toProjectInput(file: string, { capacities, activities }: ProjectInstance): OpenTimeInput {
  const before: number[][] = activities.map(() => []);
  activities.forEach((activity, index) =>
    activity.successors.forEach((successor) => before[successor]?.push(index)),
  );
  refuseCircles(
    file,
    activities.map(({ line }, index) => ({ line, before: before[index] ?? [] })),
  );
  return {
    crewCount: 0,
    equipmentCount: capacities,
    tasks: activities.map((activity, index) => ({
      crews: [],
      fixedMinutes: activity.minutes,
      equipment: activity.demands.flatMap((amount, equipment) => (amount > 0 ? [{ equipment, amount }] : [])),
      after: (before[index] ?? []).map((task) => ({ task, lagMinutes: 0 })),
      notBefore: activity.releaseMinute,
    })),
  };
}
