/**
 * What all that is done about people stands on, and the words that its parts share.
 */
import type { Actor, Person } from "../../domain/person.js";
import type { Database, Queries } from "../../store/database.js";
import {
  writePeopleChange,
  type NewPeopleChange,
  type PeopleChange,
} from "../../store/people-change-store.js";
import type { PasswordHashing } from "./password-hash.js";

export interface PeopleHouse {
  readonly database: Database;
  /** Milliseconds since 1970. */
  readonly clock: () => number;
  readonly hashing: PasswordHashing;
}

/** Understood and not allowed; `sentence` is for the person who asked. */
export interface PeopleRefusal {
  readonly kind:
    | "link-gone"
    | "not-recognised"
    | "too-many-tries"
    | "stale"
    | "unknown"
    | "last-owner"
    | "already-so"
    | "disabled";
  readonly sentence: string;
  /** Of "too-many-tries": how long to wait. */
  readonly retryAfterSeconds?: number;
}

/** A field of a form, and what is wrong with it. */
export interface PeopleFault {
  readonly field: "name" | "account" | "role" | "password" | "oldPassword";
  readonly sentence: string;
}

/** What went wrong with what somebody typed: all faults at once, or a refusal. */
export type PeopleFailure =
  | { readonly kind: "faulty"; readonly faults: readonly PeopleFault[] }
  | { readonly kind: "refused"; readonly refusal: PeopleRefusal };

export const faulty = (faults: readonly PeopleFault[]): PeopleFailure => ({ kind: "faulty", faults });
export const refused = (kind: PeopleRefusal["kind"], sentence: string): PeopleFailure => ({
  kind: "refused",
  refusal: { kind, sentence },
});

export const SECOND_MS = 1_000;
export const MINUTE_MS = 60 * SECOND_MS;
export const HOUR_MS = 60 * MINUTE_MS;
export const DAY_MS = 24 * HOUR_MS;

/** A moment of the house's clock. */
export const momentOf = (ms: number): Date => new Date(ms);

export const toActor = (person: Person): Actor => ({ personId: person.id, personName: person.name });

/** What the record says of a person. */
export const factsOf = (person: Person): NonNullable<PeopleChange["after"]> => ({
  name: person.name,
  account: person.account,
  role: person.role,
  isDisabled: person.isDisabled,
});

/** Puts a change on record, in the transaction that makes it. */
export function record(
  queries: Queries,
  at: Date,
  by: Actor,
  change: Omit<NewPeopleChange, "madeAt" | "personId" | "personName">,
): Promise<void> {
  return writePeopleChange(queries, {
    madeAt: at,
    personId: by.personId,
    personName: by.personName,
    ...change,
  });
}

const PARAGRAPH = " ";

/** What a person says about why, as the record keeps it: one line, not endless. */
export function toWhy(text: string): string {
  return text
    .normalize("NFC")
    .replaceAll(/[\p{Cc}\s]+/gu, PARAGRAPH)
    .trim()
    .slice(0, 300);
}
