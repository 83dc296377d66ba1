/**
 * The desk on the database. A change is written first, with its record, and then planned: whoever made it waits for the
 * plan that has it. Several processes may serve one company: each hears of the others' changes and plans, one of them
 * plans, and the others take its plan. Nobody waits for a good plan: a quick one is shown first, and a better one takes
 * its place while the company is the same. All planning is done by a worker.
 */
import { setTimeout as sleep } from "node:timers/promises";
import { formatFault, parseCompany, type Fault } from "../domain/company-file.js";
import type { PartKey, Source } from "../domain/company-parts.js";
import type { Company } from "../domain/company-schema.js";
import type { Actor } from "../domain/person.js";
import { fail, invariant, ok, present, type Result } from "../domain/result.js";
import { civilDateAt } from "../domain/time.js";
import type { MoveRefusal, MoveWish } from "../planner/moving/move-refusal.js";
import { CompanyStore, type DecideWrite, type StoredCompany } from "../store/company-store.js";
import type { Database, Queries } from "../store/database.js";
import { findNewestPlan, insertPlan } from "../store/plan-store.js";
import { listTouching, type ChangeEntry } from "../store/record-store.js";
import { applyChange } from "./changes/apply-change.js";
import { undoCalls } from "./changes/undo-calls.js";
import { decideUndo } from "./changes/undo.js";
import { ruleOf, type ChangeFailure, type CompanyChange } from "./changes/company-change.js";
import { machineClock, type Clock } from "./clock.js";
import { makeMove } from "./move-action.js";
import { MovePlanner } from "./move-planner.js";
import { EMPTY, type DeskDoor, type Standing } from "./desk-door.js";
import { DeskPlans, type PlanSettings } from "./desk-plans.js";
import type { Desk, DeskState, MovePreview, MoveToken, PublishInput } from "./desk.js";
import { DeskWire, type Heard } from "./desk-wire.js";
import { makePlanChecker, type CheckPlan } from "./plan-checker.js";
import { startPlanningWorker, type PlanningWorker } from "./planning-worker.js";
import { findPublication } from "./publication.js";
import { publish } from "./publish-action.js";
import { takeReport, type ReportInput, type ReportTaken } from "./report-action.js";
import type { TakeWay, WaysAsk, WaysShown } from "./ways.js";
import { compare, take } from "./ways-action.js";

export interface DeskOptions extends PlanSettings {
  /** The machine's clock where left out; a fixed one for a fixed as-of time. */
  readonly clock?: Clock;
  /** When a change is put on record. */
  readonly now?: () => Date;
  /** Who plans, and is closed by whoever started it; one of the desk's own where left out. */
  readonly worker?: PlanningWorker;
  /** Reads a plan against the rules before it is published; in a thread where left out. */
  readonly checkPlan?: CheckPlan;
  /** Where bugs go that no request has to do with; standard error where left out. */
  readonly log?: (error: unknown) => void;
}

/** A desk that somebody has opened and closes again. */
export interface OpenDesk extends Desk {
  /** Stops planning and lets the changes end that are under way. */
  close(): Promise<void>;
}

/** Opens the desk on a database that has been migrated. */
export async function openDesk(database: Database, options: DeskOptions): Promise<OpenDesk> {
  const desk = new CompanyDesk(database, options);
  try {
    await desk.open();
    return desk;
  } catch (error) {
    await desk.close();
    throw error;
  }
}

class CompanyDesk implements OpenDesk {
  readonly #options: DeskOptions;
  readonly #database: Database;
  readonly #door: DeskDoor;
  readonly #store: CompanyStore;
  readonly #wire: DeskWire;
  readonly #plans: DeskPlans;
  readonly #clock: Clock;
  readonly #closeWorker: () => Promise<void>;
  readonly #moves = new MovePlanner();
  #standing: Standing | undefined;
  /** The catching up that is under way, and whether something has changed since it last looked. */
  #catchingUp: Promise<void> | undefined;
  #mustCatchUp = false;
  /** Whether the last catching up failed: then the next reader asks for it again. */
  #isBehind = false;
  readonly #underWay = new Set<Promise<unknown>>();
  /** Called when something stands, by whoever waits for a version. */
  readonly #waiting: (() => void)[] = [];
  readonly #listeners = new Set<() => void>();
  #isClosed = false;

  constructor(database: Database, options: DeskOptions) {
    this.#options = options;
    this.#database = database;
    this.#clock = options.clock ?? machineClock;
    const worker = options.worker ?? startPlanningWorker();
    this.#closeWorker = () => (options.worker === undefined ? worker.close() : Promise.resolve());
    this.#store = new CompanyStore(database);
    const log = (error: unknown): void => this.#log(error);
    const hear = (what: Heard): void => {
      if (what === "report-marked") this.#tellListeners();
      else this.#catchUp().catch(log);
    };
    this.#wire = new DeskWire(database, hear, log);
    this.#plans = new DeskPlans(database, worker, this.#wire, this.#clock, options, log);
    this.#door = {
      database,
      clock: this.#clock,
      seed: options.seed,
      worker,
      checkPlan: options.checkPlan ?? makePlanChecker(),
      plans: this.#plans,
      standing: () => this.#standing,
      write: (decide, patienceMs) => this.#write(decide, patienceMs),
      entry: (kind, sentence, by, why) => this.#entry(kind, sentence, by, why),
    };
  }

  async open(): Promise<void> {
    await this.#wire.open();
    await this.#catchUp();
  }

  get isEmpty(): boolean {
    return this.#standing === undefined;
  }

  current(): DeskState {
    const { stored, company, source, plan, publication } = present(this.#standing, "a company to look at");
    const nowMinute = this.#clock();
    const today = civilDateAt(nowMinute, company.company.timeZone);
    if (plan.date !== today || this.#isBehind) this.#catchUp().catch((error: unknown) => this.#log(error));
    return {
      company,
      source,
      plan: plan.plan,
      planId: plan.id,
      today,
      nowMinute,
      version: stored.version,
      versionOf: (key: PartKey) => stored.parts.get(key)?.version ?? 0,
      planning: this.#plans.progress,
      publication: company.published === null ? null : publication,
    };
  }

  onChange(listener: () => void): () => void {
    // Whoever asks twice is told twice, and ends each by itself.
    const own = (): void => listener();
    this.#listeners.add(own);
    return () => {
      this.#listeners.delete(own);
    };
  }

  make(change: CompanyChange, by: Actor): Promise<Result<void, ChangeFailure>> {
    return this.#write(async (stored, queries) => {
      const company = this.#parsedOf(stored);
      if (company === undefined || stored.source === undefined) return fail(EMPTY);
      const key = ruleOf(change).target(change);
      if (change.seen !== undefined && key !== undefined) {
        const since = await listTouching(queries, [key], change.seen);
        if (since.length > 0) return fail({ kind: "stale", since });
      }
      const applied = applyChange({ source: stored.source, company, nowMinute: this.#clock() }, change);
      if (!applied.ok) return applied;
      const { source, sentence } = applied.value;
      const entry = this.#entry(change.kind, sentence, by, change.why ?? "");
      return ok({ source, entry });
    });
  }

  report(input: ReportInput, by: Actor, patienceMs?: number): Promise<Result<ReportTaken, ChangeFailure>> {
    return this.#follow(
      (async () => {
        const taken = await takeReport(this.#door, input, by, patienceMs);
        // It may have come to another process, which this desk has not heard of yet.
        if (taken.ok && taken.value === "taken-before") await this.#waitFor(this.#catchUp(), patienceMs);
        return taken;
      })(),
    );
  }

  publish(input: PublishInput, by: Actor): Promise<Result<void, ChangeFailure>> {
    return this.#follow(publish(this.#door, input, by));
  }

  async planMove(wish: MoveWish): Promise<Result<MovePreview, MoveRefusal>> {
    const { company, plan } = present(this.#standing, "a company to look at");
    const [asOf, { seed }] = [this.#clock(), this.#options];
    const moved = await this.#moves.plan({ company, standing: plan.plan, asOf, seed, wish }, false);
    if (!moved.ok) return moved;
    const { plan: _, ...found } = moved.value;
    return ok({ found, token: { planId: plan.id, asOf, digest: found.digest } });
  }

  move(wish: MoveWish, shown: MoveToken, by: Actor, why: string): Promise<Result<void, ChangeFailure>> {
    return this.#follow(makeMove(this.#door, this.#moves, wish, shown, by, why));
  }

  compareWays(ask: WaysAsk): Promise<Result<WaysShown, ChangeFailure>> {
    return this.#follow(compare(this.#door, ask));
  }

  takeWay(order: TakeWay, by: Actor): Promise<Result<void, ChangeFailure>> {
    return this.#follow(take(this.#door, order, by));
  }

  undo(version: number, by: Actor, why: string): Promise<Result<void, ChangeFailure>> {
    return this.#write(async (stored, queries) => {
      const undone = await decideUndo(stored, version, queries);
      if (!undone.ok) return undone;
      const { source, sentence } = undone.value;
      const name = this.#parsedOf(stored)?.company.name ?? "";
      // What was done last leaves the company as it was before: so the plan is again what it was, too.
      const before = version === stored.version ? await findNewestPlan(queries, version - 1) : undefined;
      const also = async (within: Queries, undo: number): Promise<void> => {
        await undoCalls(within, name, version, undo);
        if (before !== undefined) await insertPlan(within, { ...before, companyVersion: undo });
      };
      return ok({ source, entry: { ...this.#entry("undone", sentence, by, why), undoes: version }, also });
    });
  }

  async load(
    source: unknown,
    by: Actor,
    why: string,
    seen?: number,
  ): Promise<Result<void, readonly Fault[]>> {
    const parsed = parseCompany(source);
    if (!parsed.ok) return parsed;
    // Proof of the cast: what parses as a company is a JSON object.
    // oxlint-disable-next-line typescript/no-unsafe-type-assertion
    const whole = source as Source;
    const sentence = `Company file of ${parsed.value.company.name} loaded.`;
    const entry = this.#entry("company-loaded", sentence, by, why);
    const loaded = await this.#write((stored) =>
      Promise.resolve(
        seen === undefined || seen === (stored.source === undefined ? 0 : stored.version)
          ? ok({ source: whole, entry })
          : fail<ChangeFailure>({ kind: "stale", since: [] }),
      ),
    );
    return loaded.ok ? ok(undefined) : fail([{ path: "", sentence: CHANGED_SINCE }]);
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    this.#plans.stop();
    await Promise.allSettled(this.#underWay);
    await this.#plans.over;
    await this.#wire.close();
    await this.#moves.close();
    await this.#closeWorker();
  }

  #write(decide: DecideWrite<ChangeFailure>, patienceMs?: number): Promise<Result<void, ChangeFailure>> {
    return this.#follow(
      (async () => {
        const written = await this.#store.write(decide);
        if (!written.ok) return written;
        await this.#waitFor(this.#follow(this.#reach(written.value.version)), patienceMs);
        return ok(undefined);
      })(),
    );
  }

  /** For the work; where patience is given, no longer than that. */
  async #waitFor(work: Promise<void>, patienceMs: number | undefined): Promise<void> {
    if (patienceMs === undefined) return work;
    const late = work.catch((error: unknown) => this.#log(error));
    await Promise.race([late, sleep(patienceMs, undefined, { ref: false })]);
  }

  /** Resolves once that version stands; what has changed since, and is planned next, is not waited for. */
  async #reach(version: number): Promise<void> {
    while (!this.#isClosed && (this.#standing?.stored.version ?? -1) < version) {
      const stands = new Promise<void>((resolve) => this.#waiting.push(resolve));
      const catchingUp = this.#catchUp();
      await Promise.race([catchingUp, stands]);
      // What fails behind it is nobody's change.
      catchingUp.catch((error: unknown) => this.#log(error));
    }
  }

  /** Keeps hold of what is under way, so that a close can wait for it. */
  #follow<T>(work: Promise<T>): Promise<T> {
    this.#underWay.add(work);
    const forget = (): void => {
      this.#underWay.delete(work);
    };
    work.then(forget, forget);
    return work;
  }

  #entry(kind: string, sentence: string, by: Actor, why: string): ChangeEntry {
    const now = this.#options.now ?? (() => new Date());
    return { madeAt: now(), personId: by.personId, personName: by.personName, kind, sentence, why };
  }

  /** Comes to what the database has: the company as it stands there, and a plan of it for today. */
  #catchUp(): Promise<void> {
    this.#mustCatchUp = true;
    this.#catchingUp ??= this.#follow(this.#catchUpWhileNeeded());
    return this.#catchingUp;
  }

  async #catchUpWhileNeeded(): Promise<void> {
    // Not in this turn, so that whoever asked has this promise in place before it can be over.
    await Promise.resolve();
    try {
      while (this.#mustCatchUp && !this.#isClosed) {
        this.#mustCatchUp = false;
        this.#isBehind = true;
        await this.#catchUpOnce();
        this.#isBehind = false;
      }
    } finally {
      this.#catchingUp = undefined;
    }
  }

  async #catchUpOnce(): Promise<void> {
    const stored = await this.#store.read();
    const company = this.#parsedOf(stored);
    if (company === undefined || stored.source === undefined) return;
    const plan = await this.#plans.planOf(stored.version, company, this.#standing?.plan, (better) => {
      if (this.#standing?.stored.version === better.companyVersion) {
        this.#stand({ ...this.#standing, plan: better });
      }
    });
    if (plan === undefined) return;
    const publication = await findPublication(this.#database, this.#standing?.publication ?? null);
    this.#stand({ stored, source: stored.source, company, plan, publication });
  }

  /** From now on this stands; whoever listens is told where it is something else. */
  #stand(standing: Standing): void {
    const before = this.#standing;
    this.#standing = standing;
    for (const resolve of this.#waiting.splice(0)) resolve();
    if (before?.stored.version === standing.stored.version && before.plan.id === standing.plan.id) return;
    this.#tellListeners();
  }

  #tellListeners(): void {
    if (this.#standing === undefined) return;
    for (const listener of this.#listeners) {
      try {
        listener();
      } catch (error) {
        this.#log(error);
      }
    }
  }

  /** The company of what is stored; parsed once for a version. */
  #parsedOf(stored: StoredCompany): Company | undefined {
    if (stored.source === undefined) return undefined;
    if (this.#standing?.stored === stored) return this.#standing.company;
    const parsed = parseCompany(stored.source);
    invariant(
      parsed.ok,
      `the stored company has no fault, but: ${parsed.ok ? "" : parsed.error.map(formatFault).join(" ")}`,
    );
    return parsed.value;
  }

  #log(error: unknown): void {
    (this.#options.log ?? console.error)(error);
  }
}

const CHANGED_SINCE = "The company has been changed since this was shown, so nothing was loaded.";
