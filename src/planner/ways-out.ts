/**
 * Ways out of a slip: complete plans of a company to which something has happened, side by side. Hold the order is the
 * yardstick; the others make use of what the dispatcher allows, or keep what she wishes. Pure: the same company, standing
 * plan, permissions and seed give the same ways.
 */
import type { Company } from "../domain/company-schema.js";
import { fail, ok, type Result } from "../domain/result.js";
import { addDays, civilDateAt, weekdayOf, type CivilDate, type Minute } from "../domain/time.js";
import { applyEdits } from "./ways-out/company-edits.js";
import { Recovery, type Wished } from "./ways-out/recovery.js";
import { subtractFigures, type WayFigures, type WayOut, type WaysOutOptions } from "./ways-out/way-out.js";
import { WayFinder } from "./ways-out/way-finder.js";
import { makeKeptCheck } from "./ways-out/wish-kept.js";
import { applyWish, type Wish, type WishRefusal } from "./ways-out/wishes.js";

/** Dates from `asOf`'s own on, in the company's zone. */
export function listDatesAhead(company: Company, asOf: Minute, days: number): readonly CivilDate[] {
  const today = civilDateAt(asOf, company.company.timeZone);
  return Array.from({ length: days }, (_, day) => addDays(today, day));
}

/** The next Saturdays; `asOf`'s own date may be the first. */
export function listSaturdaysAhead(company: Company, asOf: Minute, count: number): readonly CivilDate[] {
  return listDatesAhead(company, asOf, count * 7).filter((date) => weekdayOf(date) === "sat");
}

/**
 * The ways out that are worth showing, hold the order first, then those with fewer permissions. `company` is the company
 * with the slip in it. Ways that are in no figure better than another are left out, but never the first.
 */
export function listWaysOut(company: Company, options: WaysOutOptions): readonly WayOut[] {
  const recovery = new Recovery(company, options.asOf, options.standing);
  return new WayFinder(recovery, options).list();
}

/** A way out made by hand, and what it costs. */
export interface WishedWay {
  readonly way: WayOut;
  /** The way by the same permissions without the wishes. */
  readonly without: WayOut;
  /** `way` − `without`, figure by figure. */
  readonly costs: WayFigures;
}

/**
 * One complete plan that keeps all the wishes, in which the planner fills in the rest: in the standing order, or as
 * resequencing and lending are permitted. Or the first wish that cannot be kept, and what forbids it. Each wish is applied
 * to what the ones before it have made.
 */
export function planWish(
  company: Company,
  wishes: readonly Wish[],
  options: WaysOutOptions,
): Result<WishedWay, WishRefusal> {
  const { asOf, standing } = options;
  let wished: Wished = { edits: [], order: standing, checks: [] };
  for (const wish of wishes) {
    const before = wished.order;
    const files = { company: applyEdits(company, wished.edits), asOf, order: before };
    const applied = applyWish(files, wish);
    if (!applied.ok) return applied;
    const { edits, order } = applied.value;
    wished = {
      edits: [...wished.edits, ...edits],
      order,
      checks: [...wished.checks, (compiled) => makeKeptCheck(compiled, wish, edits, before)],
    };
  }
  const recovery = new Recovery(applyEdits(company, wished.edits), asOf, standing, wished);
  const found = new WayFinder(recovery, options).findOne();
  const [givenUp] = found.givenUp;
  const wish = wishes[givenUp ?? -1];
  if (wish) return fail({ kind: "wish-refused", wish, sentence: found.whyNot(wish) });
  const { way } = found;
  const without = new WayFinder(new Recovery(company, asOf, standing), options).findOne().way;
  return ok({ way, without, costs: subtractFigures(way.figures, without.figures) });
}
