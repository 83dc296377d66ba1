/** Looks for the ways out of one slip: which combinations of permissions are tried, and from where each begins. */
import { holdOrder } from "./hold-order.js";
import { daysOf, holdWithLongerDays, keepUsed, listExtraDays, listStretchDays } from "./longer-days.js";
import { isBetter, type Recovery, type Solved, type Variant } from "./recovery.js";
import { Reorderer } from "./reorder.js";
import { toWay } from "./to-way.js";
import { withoutDominated, type Permissions, type WayOut, type WaysOutOptions } from "./way-out.js";
import { whyNotKept } from "./why-not-kept.js";
import type { Wish } from "./wishes.js";

/** Activities that are decoded in search of one way; the more there are, the fewer schedules. */
const ACTIVITIES_DECODED = 8_000;
const MOST_SCHEDULES = 100;
const LEAST_SCHEDULES = 4;

type Changes = Pick<Permissions, "resequence" | "lend">;

export class WayFinder {
  private readonly schedules: number;
  private readonly reorderers = new Map<Variant, Reorderer>();
  /** What changes of order and crews begin from. */
  private start: Solved | null = null;

  constructor(
    private readonly recovery: Recovery,
    private readonly options: WaysOutOptions,
  ) {
    const { length } = recovery.plain.compiled.problem.activities;
    const bySize = Math.floor(ACTIVITIES_DECODED / Math.max(1, length));
    this.schedules = options.iterations ?? Math.min(MOST_SCHEDULES, Math.max(LEAST_SCHEDULES, bySize));
  }

  /** The ways worth showing. */
  list(): readonly WayOut[] {
    const { recovery } = this;
    const { permissions } = this.options;
    const held = holdOrder(recovery, recovery.plain);
    const start = this.begin(held);
    const stretched = holdWithLongerDays(recovery, held, listStretchDays(recovery, permissions));
    const saturday = holdWithLongerDays(recovery, held, listExtraDays(recovery, permissions));
    const longer =
      stretched === held || saturday === held
        ? better(stretched, saturday)
        : holdWithLongerDays(recovery, held, [...daysOf(stretched), ...daysOf(saturday)]);
    const resequenced = this.reorder(start, { resequence: permissions.resequence, lend: false });
    const lent = this.reorder(start, { resequence: false, lend: permissions.lend });
    const both =
      permissions.resequence && permissions.lend
        ? this.reorder(better(lent, resequenced), permissions)
        : better(lent, resequenced);
    const found = [held, start, resequenced, lent, stretched, saturday, both, longer];
    if (longer !== held && both !== start) {
      const variant = both.variant.recovery.extend(daysOf(longer));
      found.push(this.reorder(both, permissions, variant));
    }
    return this.choose([...new Set(found)].map((solved) => this.toWay(solved, held)));
  }

  /**
   * The one way that the permissions for order and crews allow; and the wishes that it gives up, by their place, with what
   * forbids them.
   */
  findOne(): {
    readonly way: WayOut;
    readonly givenUp: readonly number[];
    readonly whyNot: (wish: Wish) => string;
  } {
    const held = holdOrder(this.recovery, this.recovery.plain);
    const found = this.reorder(this.begin(held), this.options.permissions);
    const solved = found.variant.recovery === this.recovery || isBetter(found, held) ? found : held;
    const way = this.toWay(solved, held);
    return {
      way,
      givenUp: solved.variant.recovery.listGivenUp(solved.timeline),
      whyNot: (wish) => whyNotKept(way, wish),
    };
  }

  /**
   * What changes of order and crews begin from: the order held, with what is published inside the freeze and cannot be kept
   * even so released, for then it has to move anyway.
   */
  private begin(held: Solved): Solved {
    const { resequence, lend } = this.options.permissions;
    if (!resequence && !lend) return held;
    let start = held;
    // What has become impossible first; then what it was that alone kept others from their day may give way.
    for (let round = 0; round < 2; round++) {
      const { recovery } = start.variant;
      const unkept = recovery.promises.listUnkept(start.timeline);
      if (unkept.size === 0) break;
      const freed = recovery.release(
        round === 0 ? recovery.promises.listImpossible(start.timeline, unkept) : unkept,
      );
      start = holdOrder(freed, freed.plain);
    }
    this.start = start;
    return start;
  }

  /** Hold the order first; then those with fewer permissions; of one kind the cheapest. */
  private choose(ways: WayOut[]): readonly WayOut[] {
    const rank = ({ kinds }: WayOut): number => (kinds.includes("hold") ? 0 : kinds.length);
    const [first, ...others] = ways;
    if (!first) return [];
    others.sort((a, b) => rank(a) - rank(b) || (a.key === b.key ? a.figures.cost - b.figures.cost : 0));
    const inOrder = [first, ...others];
    return withoutDominated(
      inOrder.filter((way, place) => inOrder.findIndex(({ key }) => key === way.key) === place),
    );
  }

  private toWay(solved: Solved, held: Solved): WayOut {
    return toWay(this.options, solved, solved === held);
  }

  private reorder(from: Solved, changes: Changes, variant = from.variant): Solved {
    const { resequence, lend } = changes;
    if (!resequence && !lend) return from;
    const { seed } = this.options;
    const improve = (start: Solved, of: Variant, schedules: number): Solved =>
      this.reordererOf(of, start).improve(start, { resequence, lend, seed, schedules });
    let found = improve(from, variant, this.schedules);
    return keepUsed(found, (used) => (found = improve(found, variant.recovery.extend(used), 1)));
  }

  private reordererOf(variant: Variant, from: Solved): Reorderer {
    let known = this.reorderers.get(variant);
    if (!known) this.reorderers.set(variant, (known = new Reorderer(variant, this.start ?? from)));
    return known;
  }
}

function better(one: Solved, other: Solved): Solved {
  return isBetter(other, one) ? other : one;
}
