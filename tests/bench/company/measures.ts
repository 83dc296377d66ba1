/** The measures of the company planner, each with its bar. Each is taken in a fresh process of its own. */
import { measureGrowth, N_LOG_N_EXPONENT } from "./growth.js";
import { measureImprovement } from "./improvement.js";
import { measureLatency } from "./latency.js";
import type { Measure } from "./measure.js";
import { measureMemory } from "./memory.js";
import { measureReplanning } from "./replanning.js";

export const MEASURES: ReadonlyMap<string, Measure> = new Map<string, Measure>([
  [
    "company-latency",
    {
      what: "first plan of 2,500 tasks",
      unit: "ms",
      digits: 0,
      bar: { kind: "at most", value: 100 },
      take: measureLatency,
    },
  ],
  [
    "company-growth",
    {
      what: "growth of it, 500 to 8,000 tasks: k of n^k",
      unit: "",
      digits: 2,
      bar: { kind: "at most", value: N_LOG_N_EXPONENT },
      take: measureGrowth,
    },
  ],
  [
    "company-improvement",
    {
      what: "cost lowered in 2 s",
      unit: "%",
      digits: 1,
      bar: { kind: "at least", value: 15 },
      take: measureImprovement,
    },
  ],
  [
    "company-memory",
    {
      what: "peak memory of that",
      unit: "MB",
      digits: 0,
      bar: { kind: "at most", value: 300 },
      take: measureMemory,
    },
  ],
  [
    "company-replanning",
    {
      what: "four ways of replanning 2,500 tasks",
      unit: "ms",
      digits: 0,
      bar: { kind: "at most", value: 1000 },
      take: measureReplanning,
    },
  ],
]);
