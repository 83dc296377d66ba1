/**
 * The published sets: where their files lie, what their makespans are measured against, within which budgets, and the
 * bar for each. Sets without a bar are informative.
 */
import type { Family } from "./families.js";
import type { Budget } from "./judge.js";

/** What a makespan is measured against: `critical-path` is the file's own MPM time. */
export type Reference = "best-known" | "critical-path";

export interface BudgetWithBar {
  readonly budget: Budget;
  /** The mean in % above the reference may be this at most; undefined where the set is informative. */
  readonly barPercent: number | undefined;
}

export interface PublishedSet {
  readonly name: string;
  readonly family: Family;
  /** From the folder of benchmarks. */
  readonly folder: string;
  readonly extension: string;
  /** CSV with the columns instance, lower_bound, upper_bound, source. */
  readonly bestKnown: string;
  readonly reference: Reference;
  readonly runs: readonly BudgetWithBar[];
}

const schedules = (count: number, barPercent?: number): BudgetWithBar => ({
  budget: { kind: "schedules", schedules: count },
  barPercent,
});
const seconds = (count: number, barPercent?: number): BudgetWithBar => ({
  budget: { kind: "seconds", seconds: count },
  barPercent,
});

function psplib(size: string, reference: Reference, runs: readonly BudgetWithBar[]): PublishedSet {
  return {
    name: `psplib-${size}`,
    family: "psplib",
    folder: `psplib/${size}`,
    extension: ".sm",
    bestKnown: `psplib/best_known_${size}.csv`,
    reference,
    runs,
  };
}

function shop(name: string, folder: string, runs: readonly BudgetWithBar[]): PublishedSet {
  return {
    name,
    family: "fjsp",
    folder: `fjsp/${folder}`,
    extension: ".fjs",
    bestKnown: `fjsp/best_known_${folder}.csv`,
    reference: "best-known",
    runs,
  };
}

/** In the order in which they run and are printed. */
export const PUBLISHED_SETS: readonly PublishedSet[] = [
  psplib("j30", "best-known", [schedules(5000, 0.05), schedules(50_000, 0.01)]),
  psplib("j60", "critical-path", [schedules(5000, 11), schedules(50_000, 10.75)]),
  psplib("j90", "critical-path", [schedules(5000)]),
  psplib("j120", "critical-path", [schedules(5000, 32.5), schedules(50_000, 31)]),
  shop("brandimarte", "brandimarte", [seconds(10, 1)]),
  shop("hurink-edata", "hurink_edata", [seconds(10)]),
  shop("hurink-rdata", "hurink_rdata", [seconds(10)]),
  shop("hurink-vdata", "hurink_vdata", [seconds(10)]),
  {
    name: "imopse",
    family: "imopse",
    folder: "imopse/d36",
    extension: ".def",
    bestKnown: "imopse/best_known_d36.csv",
    reference: "best-known",
    runs: [seconds(10, 0.5)],
  },
  {
    name: "mplib",
    family: "mplib",
    folder: "mplib/set3",
    extension: ".rcmp",
    bestKnown: "mplib/best_known_set3.csv",
    reference: "best-known",
    runs: [seconds(30, 1)],
  },
];
