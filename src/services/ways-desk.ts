/**
 * Ways out at the desk: compared, and one of them made ready to be written. The one that is taken is made again from the
 * same slip, permissions, plan, minute and seed, and must be the one that was shown; its plan is read against the rules
 * before anything is written.
 */
import { sayWish, wayName } from "../board/way-words.js";
import type { CallFacts } from "../board/calls-to-make.js";
import { formatFault, parseCompany } from "../domain/company-file.js";
import type { Source } from "../domain/company-parts.js";
import type { Company } from "../domain/company-schema.js";
import { isSameJson } from "../domain/json-equality.js";
import type { Plan } from "../domain/plan-format.js";
import { invariant, ok, type Result } from "../domain/result.js";
import { civilDateAt, type Minute } from "../domain/time.js";
import { applyEdits } from "../planner/ways-out/company-edits.js";
import type { KeptPlan } from "../store/plan-store.js";
import { applyChange, findWhyFault } from "./changes/apply-change.js";
import type { ChangeFailure } from "./changes/company-change.js";
import { refuse, refuseFields } from "./changes/change-refusals.js";
import { toKept } from "./desk-plans.js";
import { editSource } from "./edit-source.js";
import { BY_HAND, findWays, type FoundWay } from "./found-ways.js";
import type { CheckPlan } from "./plan-checker.js";
import type { PlanningWorker } from "./planning-worker.js";
import { preparePublish, sayBroken } from "./publishing.js";
import type { Slip } from "./slip.js";
import type { TakeWay, WaysAsk, WayOrigin, WaysShown } from "./ways.js";

/** What stands, and the plan of it that ways start from. */
export interface WaysStanding {
  readonly version: number;
  readonly source: Source;
  readonly company: Company;
  readonly planId: number;
  readonly plan: Plan;
}

export interface WaysTools {
  readonly worker: Pick<PlanningWorker, "ways">;
  readonly check: CheckPlan;
  readonly seed: number;
}

/** The ways out of a slip, as of a minute. */
export async function compareWays(
  standing: WaysStanding,
  ask: WaysAsk,
  asOf: Minute,
  { worker, seed }: Pick<WaysTools, "worker" | "seed">,
): Promise<Result<WaysShown, ChangeFailure>> {
  const slipped = applySlip(standing, ask.slip, asOf);
  if (!slipped.ok) return slipped;
  const { company, sentence } = slipped.value;
  const { permissions, wish, open } = ask;
  const standingText = JSON.stringify(standing.plan);
  const order = { company, asOf, seed, standingText, permissions, wish };
  const { ways, wish: found, opened } = await worker.ways({ ...order, ...(open !== undefined && { open }) });
  const way = ways.find(({ key }) => key === open);
  return ok({
    basis: { version: standing.version, planId: standing.planId, asOf },
    slipSentence: sentence,
    company,
    before: { company: standing.company, plan: standing.plan },
    ways,
    wish: found,
    opened:
      way === undefined || opened === null
        ? null
        : { way, company: applyEdits(company, way.edits), plan: opened.plan },
  });
}

/** All that taking a way writes. */
export interface PreparedWay {
  readonly source: Source;
  readonly kind: "way-taken" | "slip-recorded";
  readonly sentence: string;
  readonly calls: readonly CallFacts[];
  readonly plan: Omit<KeptPlan, "id" | "companyVersion">;
}

/** A comparison is taken up for so long; after that the day has gone on without it. */
const GOOD_FOR_MINUTES = 120;

/** The way that was shown, ready to be written; or why it is not taken. */
export async function prepareWay(
  standing: WaysStanding,
  order: TakeWay,
  now: Minute,
  tools: WaysTools,
): Promise<Result<PreparedWay, ChangeFailure>> {
  const { slip, permissions, wish, key, publish, why } = order;
  const { asOf } = order.basis;
  const wrong = findWhyFault(why);
  if (wrong !== undefined) return refuseFields([{ path: "reason", sentence: wrong }]);
  if (isOver(standing.company, asOf, now)) return refuse("compare-again", OVER);
  const slipped = applySlip(standing, slip, asOf);
  if (!slipped.ok) return slipped;
  const { company } = slipped.value;
  const standingText = JSON.stringify(standing.plan);
  const found = await tools.worker.ways({
    company,
    asOf,
    seed: tools.seed,
    standingText,
    permissions,
    wish,
    open: key,
    toPublish: publish,
  });
  const way = found.ways.find((one) => one.key === key);
  if (way === undefined || found.opened === null || way.digest !== order.digest) {
    return refuse("compare-again", ANOTHER);
  }
  const source = editSource(slipped.value.source, way.edits);
  const edited = parseEdited(source, company, way);
  const origin: WayOrigin = { slip, permissions, wish, key, published: publish };
  const beginning = { asOf, budget: null, fromPlan: standing.planId };
  const keep = (plan: Plan, published: boolean): PreparedWay["plan"] => ({
    ...toKept(plan, beginning),
    way: { ...origin, published },
  });
  const { plan, published } = found.opened;
  if (publish && published !== null) {
    const prepared = await preparePublish({ company: edited, source, plan }, tools.check);
    if (prepared.ok) {
      const sentence = sayTaken(slipped.value, order, way, prepared.value.sentence);
      const { calls } = prepared.value;
      return ok({
        source: prepared.value.source,
        kind: "way-taken",
        sentence,
        calls,
        plan: keep(published, true),
      });
    }
    if (!isUnchanged(prepared.error)) return prepared;
  }
  const broken = await tools.check(edited, plan);
  if (broken.length > 0) return refuse("plan-broken", sayBroken(broken));
  const sentence = publish
    ? sayTaken(slipped.value, order, way, "What is published stays as it is.")
    : sayTaken(slipped.value, order, way, "Nothing published.");
  if (slip === null && way.edits.length === 0 && !publish) return refuse("compare-again", NOTHING);
  return ok({
    source,
    kind: publish ? "way-taken" : "slip-recorded",
    sentence,
    calls: [],
    plan: keep(plan, false),
  });
}

interface Slipped {
  readonly source: Source;
  readonly company: Company;
  readonly sentence: string | null;
}

/** The company with the slip in it. Only the time decides, so that it comes out the same when the way is taken. */
function applySlip(
  { source, company }: WaysStanding,
  slip: Slip | null,
  asOf: Minute,
): Result<Slipped, ChangeFailure> {
  if (slip === null) return ok({ source, company, sentence: null });
  return applyChange({ source, company, nowMinute: asOf }, slip);
}

function parseEdited(source: Source, company: Company, way: FoundWay): Company {
  const edited = parseSound(source);
  invariant(
    isSameJson(edited, applyEdits(company, way.edits)),
    "a way out writes into the file what it did to the company",
  );
  return edited;
}

function parseSound(source: Source): Company {
  const parsed = parseCompany(source);
  invariant(
    parsed.ok,
    `a company with a way out in it has no fault, but: ${parsed.ok ? "" : parsed.error.map(formatFault).join(" ")}`,
  );
  return parsed.value;
}

function isOver(company: Company, asOf: Minute, now: Minute): boolean {
  const zone = company.company.timeZone;
  return asOf > now || now - asOf > GOOD_FOR_MINUTES || civilDateAt(asOf, zone) !== civilDateAt(now, zone);
}

/** The way publishes what is published already, or there is no work left: then there is only the slip to write. */
function isUnchanged(failure: ChangeFailure): boolean {
  return (
    failure.kind === "refused" &&
    (failure.refusal.kind === "published-already" || failure.refusal.kind === "nothing-to-publish")
  );
}

/** "Side the front at 12 Harbor Road: 6 labor-hours more. Way out: Lend. Plan published …". */
function sayTaken(
  { sentence, company }: Slipped,
  { wish }: TakeWay,
  way: FoundWay,
  published: string,
): string {
  const wished = way.key === BY_HAND && wish !== null ? ` (${sayWish(company, wish)})` : "";
  return [...(sentence === null ? [] : [sentence]), `Way out: ${wayName(way)}${wished}.`, published].join(
    " ",
  );
}

/** Why a comparison that people looked at is not taken up. */
export const OVER =
  "Too much time has gone by since these ways out were compared, so nothing was done. They are compared again here.";
export const ANOTHER =
  "This way out is no longer as it was shown, so nothing was done. The ways are compared again here.";
const NOTHING = "Nothing has slipped and nothing would change, so there was nothing to do.";

/** The plan of a way that was taken, made again; undefined where the slip no longer fits. */
export function remakeWay(
  before: Pick<WaysStanding, "source" | "company" | "plan">,
  origin: WayOrigin,
  asOf: Minute,
  seed: number,
): Plan | undefined {
  const { slip, permissions, wish, key: open, published: toPublish } = origin;
  const slipped = applySlip({ ...before, version: 0, planId: 0 }, slip, asOf);
  if (!slipped.ok) return undefined;
  const { company } = slipped.value;
  const standingText = JSON.stringify(before.plan);
  const { opened } = findWays({ company, asOf, seed, standingText, permissions, wish, open, toPublish });
  return opened?.published ?? opened?.plan;
}
