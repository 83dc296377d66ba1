/**
 * A desk whose company lives in a file. Every change starts from the file as it is on disk, is checked and planned as
 * a whole, is written, and only then becomes visible; one that fails on the way leaves file and desk as they were.
 * Changes are made one after another. The plan is renewed when the company's calendar turns to a new date.
 * Nobody waits for a good plan: a quick one is shown first, and a better one takes its place while the company is the
 * same. All planning is done by a worker.
 */
import { formatFault, parseCompany, type Fault } from "../domain/company-file.js";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { fail, ok, type Result } from "../domain/result.js";
import { civilDateAt, type CivilDate, type Minute } from "../domain/time.js";
import {
  readCompanyFile,
  replaceCompanyFile,
  toCompanyText,
  type CompanyDocument,
  type ReadFailure,
} from "../store/company-file-store.js";
import { realDisk, type Disk } from "../store/disk.js";
import { machineClock, type Clock } from "./clock.js";
import type { Desk, DeskState, HoldInput, Refusal } from "./desk.js";
import { applyHoldAdded, applyHoldLifted } from "./hold-changes.js";
import { Improvement, isBetterPlan } from "./improvement.js";
import type { PlanningBudget } from "./planning-messages.js";
import { startPlanningWorker, type PlanningWorker } from "./planning-worker.js";

export interface FileDeskOptions {
  readonly path: string;
  readonly seed: number;
  /** Of the quick plan that becomes visible with a change. */
  readonly iterations: number;
  /** What is spent on a better plan after that; nothing where left out. Repeatable where it counts iterations alone. */
  readonly improving?: PlanningBudget;
  /** The machine's clock where left out; a fixed one for a fixed as-of time. */
  readonly clock?: Clock;
  readonly disk?: Disk;
  /** Who plans, and is closed by whoever started it; one of the desk's own where left out. */
  readonly worker?: PlanningWorker;
  /** Where bugs go that no request has to do with; standard error where left out. */
  readonly log?: (error: unknown) => void;
}

/** A desk that somebody has opened and closes again. */
export interface OpenDesk extends Desk {
  /** Stops planning and lets the changes end that are under way. */
  close(): Promise<void>;
}

interface Standing {
  readonly document: CompanyDocument;
  readonly plan: Plan;
  /** The minute that the plan was made for. */
  readonly plannedAt: Minute;
  readonly version: number;
}

/** Why a change did not happen: what it says is at fault, or something else that stands in its way. */
type ChangeFailure =
  | { readonly kind: "faults"; readonly faults: readonly Fault[] }
  | { readonly kind: "refused"; readonly refusal: Refusal };

type Change = (document: CompanyDocument) => Result<Readonly<Record<string, unknown>>, ChangeFailure>;

/** Opens a company file and plans it. */
export async function openFileDesk(options: FileDeskOptions): Promise<Result<OpenDesk, ReadFailure>> {
  const read = await readCompanyFile(options.path, options.disk);
  if (!read.ok) return read;
  const worker = options.worker ?? startPlanningWorker();
  const clock = options.clock ?? machineClock;
  const closeOwn = (): Promise<void> => (options.worker === undefined ? worker.close() : Promise.resolve());
  try {
    const first = await planQuickly(worker, clock, options, read.value.company);
    return ok(new FileDesk({ document: read.value, version: 1, ...first }, worker, clock, options, closeOwn));
  } catch (error) {
    await closeOwn();
    throw error;
  }
}

/** The plan that a person waits for. */
async function planQuickly(
  worker: PlanningWorker,
  clock: Clock,
  { seed, iterations }: FileDeskOptions,
  company: Company,
  from?: Plan,
): Promise<{ readonly plan: Plan; readonly plannedAt: Minute }> {
  const plannedAt = clock();
  const order = { asOf: plannedAt, seed, iterations, ...(from && { from }) };
  return { plan: await worker.plan(company, order), plannedAt };
}

class FileDesk implements OpenDesk {
  readonly #options: FileDeskOptions;
  readonly #worker: PlanningWorker;
  readonly #clock: Clock;
  readonly #disk: Disk;
  readonly #closeOwn: () => Promise<void>;
  #standing: Standing;
  #improvement: Improvement | undefined;
  /** Whether a plan for a new date is on its way. */
  #isRenewing = false;
  #lastChange: Promise<unknown> = Promise.resolve();
  #isClosed = false;

  constructor(
    standing: Standing,
    worker: PlanningWorker,
    clock: Clock,
    options: FileDeskOptions,
    closeOwn: () => Promise<void>,
  ) {
    this.#standing = standing;
    this.#worker = worker;
    this.#clock = clock;
    this.#options = options;
    this.#disk = options.disk ?? realDisk;
    this.#closeOwn = closeOwn;
    this.#improve();
  }

  current(): DeskState {
    const nowMinute = this.#clock();
    const { document, plan, version, plannedAt } = this.#standing;
    const zone = document.company.company.timeZone;
    const today = civilDateAt(nowMinute, zone);
    if (civilDateAt(plannedAt, zone) !== today) this.#renew(today);
    const unbegun = this.#isRenewing ? { iteration: 0, cost: plan.cost.total, milliseconds: 0 } : null;
    const planning = this.#improvement?.progress ?? unbegun;
    return { company: document.company, plan, today, nowMinute, version, planning };
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    this.#improvement?.stop();
    await this.#lastChange;
    await this.#improvement?.over;
    await this.#closeOwn();
  }

  async addHold(input: HoldInput): Promise<Result<void, readonly Fault[]>> {
    const changed = await this.#change(({ source, company }) => ok(applyHoldAdded(source, company, input)));
    if (changed.ok) return changed;
    return fail(changed.error.kind === "faults" ? changed.error.faults : [toFault(changed.error.refusal)]);
  }

  async liftHold(id: string): Promise<Result<void, Refusal>> {
    const changed = await this.#change(({ source, company }) => {
      if (company.holds.some((hold) => hold.id === id)) return ok(applyHoldLifted(source, id));
      const sentence = `There is no hold "${id}". It may have been lifted already; look at the list of holds.`;
      return fail({ kind: "refused", refusal: { kind: "no-such-hold", sentence } });
    });
    if (changed.ok) return changed;
    return fail(changed.error.kind === "refused" ? changed.error.refusal : toRefusal(changed.error.faults));
  }

  #change(change: Change): Promise<Result<void, ChangeFailure>> {
    return this.#queue(() => this.#make(change));
  }

  /** Runs a change after all that were asked for before it, whether those went well or not. */
  #queue<T>(change: () => Promise<T>): Promise<T> {
    const mine = this.#lastChange.then(change);
    this.#lastChange = mine.catch(() => undefined);
    return mine;
  }

  async #make(change: Change): Promise<Result<void, ChangeFailure>> {
    const read = await this.#readAgain();
    if (!read.ok) return read;
    const source = change(read.value);
    if (!source.ok) return source;
    const parsed = parseCompany(source.value);
    if (!parsed.ok) return fail({ kind: "faults", faults: parsed.error });
    const text = toCompanyText(source.value);
    const next = { text, source: source.value, company: parsed.value };
    this.#improvement?.stop();
    try {
      const quick = await planQuickly(
        this.#worker,
        this.#clock,
        this.#options,
        next.company,
        this.#standing.plan,
      );
      const written = await replaceCompanyFile(this.#options.path, text, this.#disk);
      if (!written.ok) return fail({ kind: "refused", refusal: written.error });
      this.#standing = { document: next, version: this.#standing.version + 1, ...quick };
      return ok(undefined);
    } finally {
      // After a change that failed, the search that was stopped for it begins again.
      this.#improve();
    }
  }

  /** Plans for a new date behind the plan that is shown. Where that fails, the next reader asks for it again. */
  #renew(today: CivilDate): void {
    if (this.#isRenewing || this.#isClosed) return;
    this.#isRenewing = true;
    this.#queue(async () => {
      const { document, plannedAt } = this.#standing;
      if (civilDateAt(plannedAt, document.company.company.timeZone) === today) return;
      this.#improvement?.stop();
      const quick = await planQuickly(
        this.#worker,
        this.#clock,
        this.#options,
        document.company,
        this.#standing.plan,
      );
      this.#standing = { document, version: this.#standing.version + 1, ...quick };
      this.#improve();
    })
      .catch((error: unknown) => this.#log(error))
      .finally(() => (this.#isRenewing = false));
  }

  /** Looks for a better plan of the company that stands now. */
  #improve(): void {
    const { improving, seed } = this.#options;
    if (improving === undefined || this.#isClosed) return;
    const { document, plan: shown, plannedAt, version } = this.#standing;
    const order = { asOf: plannedAt, seed, from: shown, ...improving };
    this.#improvement = new Improvement(this.#worker, document.company, shown, order, {
      onFound: (plan) => {
        if (this.#standing.version === version && isBetterPlan(plan, this.#standing.plan)) {
          this.#standing = { ...this.#standing, plan };
        }
      },
      onBug: (error) => this.#log(error),
    });
  }

  #log(error: unknown): void {
    (this.#options.log ?? console.error)(error);
  }

  /** The document as it is on disk: somebody may have edited the file by hand since. */
  async #readAgain(): Promise<Result<CompanyDocument, ChangeFailure>> {
    const read = await readCompanyFile(this.#options.path, this.#disk);
    if (read.ok) return read.value.text === this.#standing.document.text ? ok(this.#standing.document) : read;
    const failure = read.error;
    if (failure.kind === "unreadable") {
      return fail({ kind: "refused", refusal: { kind: "unreadable", sentence: failure.sentence } });
    }
    return fail({ kind: "faults", faults: failure.faults });
  }
}

/** The whole request failed, not one of its fields. */
function toFault(refusal: Refusal): Fault {
  return { path: "", sentence: refusal.sentence };
}

function toRefusal(faults: readonly Fault[]): Refusal {
  const sentence = `Without this hold the company file would be at fault: ${faults.map(formatFault).join(" ")}`;
  return { kind: "faulty-file", sentence };
}
