/**
 * The version of the planner: another one may make another plan of the same input. Raised by one with every change
 * after which it does; tests/planner/planner-version.test.ts notices.
 */
export const PLANNER_VERSION = "4";
