/**
 * A desk whose company lives in a file. Every change starts from the file as it is on disk, is checked and planned as
 * a whole, is written, and only then becomes visible; one that fails on the way leaves file and desk as they were.
 * Changes are made one after another. The plan is renewed when the company's calendar turns to a new date.
 */
import { formatFault, parseCompany, type Fault } from "../domain/company-file.js";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { fail, ok, type Result } from "../domain/result.js";
import { civilDateAt, type Minute } from "../domain/time.js";
import { planCompany } from "../planner/plan.js";
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

export interface FileDeskOptions {
  readonly path: string;
  readonly seed: number;
  readonly iterations: number;
  /** The machine's clock where left out; a fixed one for a fixed as-of time. */
  readonly clock?: Clock;
  readonly disk?: Disk;
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
export async function openFileDesk(options: FileDeskOptions): Promise<Result<Desk, ReadFailure>> {
  const read = await readCompanyFile(options.path, options.disk);
  return read.ok ? ok(new FileDesk(read.value, options)) : read;
}

class FileDesk implements Desk {
  readonly #path: string;
  readonly #seed: number;
  readonly #iterations: number;
  readonly #clock: Clock;
  readonly #disk: Disk;
  #standing: Standing;
  #lastChange: Promise<unknown> = Promise.resolve();

  constructor(document: CompanyDocument, options: FileDeskOptions) {
    this.#path = options.path;
    this.#seed = options.seed;
    this.#iterations = options.iterations;
    this.#clock = options.clock ?? machineClock;
    this.#disk = options.disk ?? realDisk;
    this.#standing = this.#planned(document, 1);
  }

  current(): DeskState {
    const nowMinute = this.#clock();
    const zone = this.#standing.document.company.company.timeZone;
    const today = civilDateAt(nowMinute, zone);
    if (civilDateAt(this.#standing.plannedAt, zone) !== today) {
      this.#standing = this.#planned(this.#standing.document, this.#standing.version + 1);
    }
    const { document, plan, version } = this.#standing;
    return { company: document.company, plan, today, nowMinute, version };
  }

  async addHold(input: HoldInput): Promise<Result<void, readonly Fault[]>> {
    const changed = await this.#queue(({ source, company }) => ok(applyHoldAdded(source, company, input)));
    if (changed.ok) return changed;
    return fail(changed.error.kind === "faults" ? changed.error.faults : [toFault(changed.error.refusal)]);
  }

  async liftHold(id: string): Promise<Result<void, Refusal>> {
    const changed = await this.#queue(({ source, company }) => {
      if (company.holds.some((hold) => hold.id === id)) return ok(applyHoldLifted(source, id));
      const sentence = `There is no hold "${id}". It may have been lifted already; look at the list of holds.`;
      return fail({ kind: "refused", refusal: { kind: "no-such-hold", sentence } });
    });
    if (changed.ok) return changed;
    return fail(changed.error.kind === "refused" ? changed.error.refusal : toRefusal(changed.error.faults));
  }

  /** Runs a change after all that were asked for before it, whether those went well or not. */
  #queue(change: Change): Promise<Result<void, ChangeFailure>> {
    const mine = this.#lastChange.then(() => this.#make(change));
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
    const { plan, plannedAt } = this.#plan(next.company);
    const written = await replaceCompanyFile(this.#path, text, this.#disk);
    if (!written.ok) return fail({ kind: "refused", refusal: written.error });
    this.#standing = { document: next, plan, plannedAt, version: this.#standing.version + 1 };
    return ok(undefined);
  }

  /** The document as it is on disk: somebody may have edited the file by hand since. */
  async #readAgain(): Promise<Result<CompanyDocument, ChangeFailure>> {
    const read = await readCompanyFile(this.#path, this.#disk);
    if (read.ok) return read.value.text === this.#standing.document.text ? ok(this.#standing.document) : read;
    const failure = read.error;
    if (failure.kind === "unreadable") {
      return fail({ kind: "refused", refusal: { kind: "unreadable", sentence: failure.sentence } });
    }
    return fail({ kind: "faults", faults: failure.faults });
  }

  #planned(document: CompanyDocument, version: number): Standing {
    return { document, version, ...this.#plan(document.company) };
  }

  #plan(company: Company): { readonly plan: Plan; readonly plannedAt: Minute } {
    const plannedAt = this.#clock();
    const plan = planCompany(company, { asOf: plannedAt, seed: this.#seed, iterations: this.#iterations });
    return { plan, plannedAt };
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
