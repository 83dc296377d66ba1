/** The record as pages read it: the changes of the company, newest first, and the plans that have been kept. */
import type { Database } from "../store/database.js";
import { PlanStore, type PlanOrigin } from "../store/plan-store.js";
import {
  findChange,
  listChanges,
  listRecordNames,
  type RecordedChange,
  type RecordFilter,
} from "../store/record-store.js";

/** A kept plan without the plan itself. */
export type KeptPlanOrigin = PlanOrigin & { readonly id: number };

export interface CompanyRecord {
  /** Newest first. */
  list(filter: RecordFilter): Promise<readonly RecordedChange[]>;
  /** The change that made that version; undefined where there is none. */
  find(version: number): Promise<RecordedChange | undefined>;
  /** Who is in the record, and which kinds of changes. */
  names(): Promise<{ readonly personNames: readonly string[]; readonly kinds: readonly string[] }>;
  /** Newest first, at most `limit`; those before a number where one is given. */
  listPlans(limit: number, before?: number): Promise<readonly KeptPlanOrigin[]>;
}

/** The record of a database that has been migrated. */
export function openRecord(database: Database): CompanyRecord {
  const plans = new PlanStore(database);
  return {
    list: (filter) => listChanges(database, filter),
    find: (version) => findChange(database, version),
    names: () => listRecordNames(database),
    listPlans: (limit, before) => plans.list(limit, before),
  };
}
