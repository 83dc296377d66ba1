/**
 * The door of the search: a problem or a decoder in, a search out that is stepped until its budget is spent. One search
 * for all problems; what a problem is like decides which moves apply.
 */
import { LineSearch } from "./line-search.js";
import { LineImprover } from "./lines/line-improver.js";
import { appliesToLines, toLineProblem } from "./lines/line-problem.js";
import { buildStart } from "./lines/line-relink.js";
import { NeighbourSearch } from "./neighbour-search.js";
import { OpenDecoder } from "./open-decoder.js";
import { findLowerBound } from "./population/lower-bound.js";
import { ParallelScheme } from "./population/parallel-scheme.js";
import { PopulationSearch } from "./population/population-search.js";
import type { Problem } from "./problem.js";
import { Random } from "./random.js";
import type { ScheduleDecoder } from "./schedule-decoder.js";
import type { Search, SearchOptions } from "./search.js";

/** A search on a problem in open time; it is done when the makespan meets the longest path or the work to be carried. */
export function startSearch(problem: Problem, options: SearchOptions): Search {
  const decoder = new OpenDecoder(problem);
  const bound = findLowerBound(problem, decoder);
  if (appliesToLines(problem)) {
    const random = new Random(options.seed);
    const from = options.from ?? buildStart(toLineProblem(problem), decoder.tails, random, 0);
    return new LineSearch(decoder, new LineImprover(decoder, random), { ...options, bound, from });
  }
  const parallel = decoder.canMirror && hasPlainLags(problem) ? new ParallelScheme(problem, decoder) : null;
  return new PopulationSearch(decoder, { ...options, bound }, parallel);
}

/** A search by any decoder. The first schedule is decoded at once. */
export function searchWith(decoder: ScheduleDecoder, options: SearchOptions): Search {
  const { from } = options;
  // Where justification has nothing to say, small changes of a good schedule do better than crosses of random ones.
  if (!decoder.canMirror && from) return new NeighbourSearch(decoder, { ...options, from });
  return new PopulationSearch(decoder, options, null);
}

function hasPlainLags({ tasks }: Problem): boolean {
  return tasks.every(({ after }) => after.every(({ lagMinutes }) => lagMinutes >= 0));
}
