/** The measures of the company planner, the store and the pages, each figure with its bar. Each is taken in a fresh process of its own. */
import { measureExactness } from "./exactness.js";
import { measureGrowth, N_LOG_N_EXPONENT } from "./growth.js";
import { measureImprovement } from "./improvement.js";
import { measureLatency } from "./latency.js";
import type { Figure, Measure, Measured } from "./measure.js";
import { measureMemory } from "./memory.js";
import { measureStops } from "./stops.js";
import { measureWaysOut } from "./ways-out.js";
import {
  measureBoard,
  measureKills,
  measurePublishKills,
  measureSheets,
  measureWriters,
} from "../store/measure-store.js";

export const MEASURES: ReadonlyMap<string, Measure> = new Map<string, Measure>([
  ["company-latency", alone("first plan of 2,500 tasks", "ms", 0, atMost(100), measureLatency)],
  [
    "company-growth",
    alone("growth of it, 500 to 8,000 tasks: k of n^k", "", 2, atMost(N_LOG_N_EXPONENT), measureGrowth),
  ],
  ["company-improvement", alone("cost lowered in 2 s", "%", 1, atLeast(15), measureImprovement)],
  ["company-memory", alone("peak memory of that", "MB", 0, atMost(300), measureMemory)],
  [
    "company-ways-out",
    {
      figures: [
        { what: "all ways out of a slip of 2,500 tasks", unit: "ms", digits: 0, bar: atMost(1000) },
        { what: "all ways out of a slip of the demo company", unit: "ms", digits: 0, bar: atMost(300) },
      ],
      take: measureWaysOut,
    },
  ],
  ["store-kills", alone("changes lost in 200 kills", "", 0, atMost(0), measureKills)],
  ["store-publish", alone("publishes lost or half done in 100 kills", "", 0, atMost(0), measurePublishKills)],
  ["store-writers", alone("changes lost or doubled, 50 writers, two apps", "", 0, atMost(0), measureWriters)],
  ["pages-board", alone("board of 1,000 tasks, 50 at once: p95", "ms", 0, atMost(50), measureBoard)],
  [
    "pages-sheets",
    {
      figures: [
        { what: "a day sheet of the demo company, rendered: median", unit: "ms", digits: 1, bar: atMost(10) },
        { what: "day sheets, 100 phones at once: p95", unit: "ms", digits: 0, bar: atMost(200) },
      ],
      take: measureSheets,
    },
  ],
  ["company-cancellation", alone("wait for a stop", "ms", 0, atMost(50), measureStops)],
  [
    "company-exact",
    {
      figures: [
        { what: "small companies: equal to the optimum", unit: "%", digits: 1, bar: atLeast(95) },
        { what: "small companies: mean gap to it", unit: "%", digits: 2, bar: atMost(0.5) },
      ],
      take: measureExactness,
    },
  ],
]);

function atMost(value: number): Figure["bar"] {
  return { kind: "at most", value };
}

function atLeast(value: number): Figure["bar"] {
  return { kind: "at least", value };
}

/** A measure of one figure. */
function alone(
  what: string,
  unit: string,
  digits: number,
  bar: Figure["bar"],
  take: () => Measured | Promise<Measured>,
): Measure {
  return { figures: [{ what, unit, digits, bar }], take: async () => [await take()] };
}
