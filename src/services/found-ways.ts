/**
 * Ways out as they come from the thread that plans: all of it JSON. Made here, in that thread, so that the process that
 * answers people never plans.
 */
import { createHash } from "node:crypto";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { toPublishedBlocks } from "../planner/published-blocks.js";
import { listWaysOut, planWish } from "../planner/ways-out.js";
import type { CompanyEdit } from "../planner/ways-out/company-edits.js";
import type { PlanDifference } from "../planner/ways-out/plan-difference.js";
import type { PermissionUse, WayFigures, WayKind, WayOut } from "../planner/ways-out/way-out.js";
import type { WaysOrder } from "./planning-messages.js";

/** A way out without its plan. */
export interface FoundWay {
  readonly key: string;
  readonly kinds: readonly WayKind[];
  readonly edits: readonly CompanyEdit[];
  readonly permissionsUsed: readonly PermissionUse[];
  readonly crewHoursGained: number;
  readonly crewHoursUsed: number;
  readonly difference: PlanDifference;
  readonly figures: WayFigures;
  /** Another one wherever anything of the way is another. */
  readonly digest: string;
}

/** The plan of one way. */
export interface OpenedWay {
  readonly plan: Plan;
  /** The same plan for the company in which it is published; null where that was not asked for. */
  readonly published: Plan | null;
}

/** What a wish costs, or why it cannot be kept. */
export type FoundWish =
  | {
      readonly kind: "kept";
      /** The wished way's figures less those of the same permissions without the wish. */
      readonly costs: WayFigures;
    }
  | { readonly kind: "refused"; readonly sentence: string };

/** The key of the way that keeps a wish. */
export const BY_HAND = "by-hand";

export interface FoundWays {
  /** The one by hand first, where there is one; then the order held. */
  readonly ways: readonly FoundWay[];
  /** Null where nothing was wished for. */
  readonly wish: FoundWish | null;
  /** Null where no way has the key that was asked for. */
  readonly opened: OpenedWay | null;
}

/** The ways of an order, and the plan of the one that it opens. */
export function findWays(order: WaysOrder): FoundWays {
  const { company, asOf, seed, permissions, wish, open, toPublish = false } = order;
  // Proof of the cast: only plans of this program are kept and sent, as their own JSON.
  const standing = JSON.parse(order.standingText) as Plan;
  const options = { asOf, seed, standing, permissions };
  const wished = wish === null ? null : planWish(company, [wish], options);
  const byHand = wished?.ok === true ? [[BY_HAND, wished.value.way] as const] : [];
  const ways = [...byHand, ...listWaysOut(company, options).map((way) => [way.key, way] as const)];
  const [, way] = ways.find(([key]) => key === open) ?? [];
  return {
    ways: ways.map(([key, one]) => toFound(key, one)),
    wish:
      wished === null
        ? null
        : wished.ok
          ? { kind: "kept", costs: wished.value.costs }
          : { kind: "refused", sentence: wished.error.sentence },
    opened: way === undefined ? null : openWay(way, toPublish),
  };
}

function toFound(key: string, way: WayOut): FoundWay {
  const { kinds, edits, permissionsUsed, crewHoursGained, crewHoursUsed, difference, figures } = way;
  const found = { key, kinds, edits, permissionsUsed, crewHoursGained, crewHoursUsed, difference, figures };
  return { ...found, digest: createHash("sha256").update(JSON.stringify(found)).digest("base64url") };
}

function openWay(way: WayOut, toPublish: boolean): OpenedWay {
  const plan = way.explain();
  return { plan, published: toPublish ? way.explainFor(publishIn(way.company, plan)) : null };
}

/** The company as it is once a plan of it is published. */
function publishIn(company: Company, plan: Plan): Company {
  const published = toPublishedBlocks(company, plan).map((block) => ({ ...block, released: false }));
  return { ...company, published };
}
