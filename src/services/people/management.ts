/**
 * What an owner does about people: invite, change the role, disable and enable, send a link that resets the password.
 * Each takes effect at once and is on record; the last owner who can sign in stays one.
 */
import {
  parseAccount,
  parsePersonName,
  toAccountKey,
  type Actor,
  type Person,
  type Role,
} from "../../domain/person.js";
import { fail, ok, type Result } from "../../domain/result.js";
import type { Queries } from "../../store/database.js";
import { deleteUnusedInvitations } from "../../store/invitation-store.js";
import { findLastChangeOf, type NewPeopleChange } from "../../store/people-change-store.js";
import {
  countWorkingOwners,
  findPerson,
  findPersonByAccount,
  insertPerson,
  listPersons,
  setDisabledAt,
  setRole,
} from "../../store/people-store.js";
import { deleteSessionsOf } from "../../store/session-store.js";
import { makeToken } from "../token.js";
import {
  factsOf,
  faulty,
  momentOf,
  record,
  toWhy,
  type PeopleFailure,
  type PeopleFault,
  type PeopleHouse,
  type PeopleRefusal,
} from "./house.js";
import { inviteIn } from "./invitations.js";

/** Which person, as whoever changes her has seen her: another change in between is not written over. */
export interface PersonSeen {
  readonly personId: number;
  readonly version: number;
  /** Why, for the record; may be empty. */
  readonly why: string;
}

/** A person, and the token of the link that she is to be given. It is shown once. */
export interface Invited {
  readonly person: Person;
  readonly token: string;
}

export interface Management {
  /** Everybody, disabled people included, in the order in which they came. */
  list(): Promise<readonly Person[]>;
  invite(
    input: { readonly name: string; readonly account: string; readonly role: Role | undefined },
    by: Actor,
  ): Promise<Result<Invited, PeopleFailure>>;
  changeRole(seen: PersonSeen, role: Role, by: Actor): Promise<Result<Person, PeopleRefusal>>;
  /** Nobody signs in as her any more, and all her sessions end. */
  disable(seen: PersonSeen, by: Actor): Promise<Result<Person, PeopleRefusal>>;
  enable(seen: PersonSeen, by: Actor): Promise<Result<Person, PeopleRefusal>>;
  /** A link with which the person sets a (new) password; the one before is void. Until then the old password holds. */
  makeResetLink(seen: PersonSeen, by: Actor): Promise<Result<Invited, PeopleRefusal>>;
}

export function makeManagement({ database, clock }: PeopleHouse): Management {
  /** Does the work on a person who is as she was seen, and puts it on record. */
  const change = <T>(
    seen: PersonSeen,
    by: Actor,
    work: (
      queries: Queries,
      before: Person,
      now: Date,
    ) => Promise<Result<{ value: T; after: Person; entry: Entry }, PeopleRefusal>>,
  ): Promise<Result<T, PeopleRefusal>> =>
    database.transaction(async (queries) => {
      const now = momentOf(clock());
      const found = await findPerson(queries, seen.personId);
      if (found === undefined) return fail({ kind: "unknown", sentence: "There is no such person." });
      const before = found.person;
      if (before.version !== seen.version) return fail(await staleRefusal(queries, before));
      const done = await work(queries, before, now);
      if (!done.ok) return done;
      await record(queries, now, by, {
        ...done.value.entry,
        why: toWhy(seen.why),
        subject: { personId: before.id },
        before: factsOf(before),
        after: factsOf(done.value.after),
      });
      return ok(done.value.value);
    });

  return {
    list: () => listPersons(database),

    async invite(input, by) {
      const name = parsePersonName(input.name);
      const account = parseAccount(input.account);
      const { role } = input;
      if (!name.ok || !account.ok || role === undefined) {
        const faults: PeopleFault[] = [];
        if (!name.ok) faults.push({ field: "name", sentence: name.error });
        if (!account.ok) faults.push({ field: "account", sentence: account.error });
        if (role === undefined) faults.push({ field: "role", sentence: "Choose what the person may do." });
        return fail(faulty(faults));
      }
      const token = makeToken();
      const accountKey = toAccountKey(account.value);
      return database.transaction(async (queries) => {
        const holder = await findPersonByAccount(queries, accountKey);
        if (holder !== undefined) {
          const sentence = `${holder.person.name} has the account name "${holder.person.account}" already. Choose another one.`;
          return fail(faulty([{ field: "account", sentence }]));
        }
        const now = momentOf(clock());
        const person = await insertPerson(queries, {
          name: name.value,
          account: account.value,
          accountKey,
          role,
          passwordHash: null,
          madeAt: now,
        });
        await inviteIn(queries, now.getTime(), { token, purpose: "welcome", personId: person.id });
        await record(queries, now, by, {
          kind: "person-invited",
          sentence: `Invited ${person.name} as ${role}.`,
          why: "",
          subject: { personId: person.id },
          before: null,
          after: factsOf(person),
        });
        return ok({ person, token });
      });
    },

    changeRole: (seen, role, by) =>
      change(seen, by, async (queries, before) => {
        if (before.role === role) return fail(alreadySo(`${before.name} is ${role} already.`));
        const after = await setRole(queries, before.id, role);
        if (await isWithoutOwner(queries)) throw new LastOwner(before);
        const sentence = `Made ${before.name} ${role}, who was ${before.role}.`;
        return ok({ value: after, after, entry: { kind: "role-changed", sentence } });
      }).catch(lastOwnerRefusal),

    disable: (seen, by) =>
      change(seen, by, async (queries, before, now) => {
        if (before.isDisabled) return fail(alreadySo(`${before.name} is disabled already.`));
        const after = await setDisabledAt(queries, before.id, now);
        if (await isWithoutOwner(queries)) throw new LastOwner(before);
        await deleteSessionsOf(queries, before.id);
        await deleteUnusedInvitations(queries, before.id);
        const sentence = `Disabled ${before.name}, and ended all sessions.`;
        return ok({ value: after, after, entry: { kind: "person-disabled", sentence } });
      }).catch(lastOwnerRefusal),

    enable: (seen, by) =>
      change(seen, by, async (queries, before) => {
        if (!before.isDisabled) return fail(alreadySo(`${before.name} is not disabled.`));
        const after = await setDisabledAt(queries, before.id, null);
        return ok({
          value: after,
          after,
          entry: { kind: "person-enabled", sentence: `Enabled ${before.name} again.` },
        });
      }),

    makeResetLink: (seen, by) => {
      const token = makeToken();
      return change(seen, by, async (queries, before, now) => {
        if (before.isDisabled) {
          const sentence = `${before.name} is disabled. Enable the account first, then make the link.`;
          return fail({ kind: "disabled", sentence });
        }
        const purpose = before.hasPassword ? "reset" : "welcome";
        await inviteIn(queries, now.getTime(), { token, purpose, personId: before.id });
        const entry: Entry = before.hasPassword
          ? { kind: "reset-link-made", sentence: `Made a link that resets the password of ${before.name}.` }
          : { kind: "invitation-renewed", sentence: `Made a new invitation for ${before.name}.` };
        return ok({ value: { person: before, token }, after: before, entry });
      });
    },
  };
}

type Entry = Pick<NewPeopleChange, "kind" | "sentence">;

/** Thrown within a transaction, so that it is undone; caught right outside. */
class LastOwner extends Error {
  readonly person: Person;

  constructor(person: Person) {
    super("nobody would be left who can sign in as owner");
    this.person = person;
  }
}

const isWithoutOwner = async (queries: Queries): Promise<boolean> =>
  (await countWorkingOwners(queries)) === 0;

function lastOwnerRefusal(error: unknown): Result<never, PeopleRefusal> {
  if (!(error instanceof LastOwner)) throw error;
  const sentence = `${error.person.name} is the last owner who can sign in. Make somebody else owner first, and see that the invitation is answered.`;
  return fail({ kind: "last-owner", sentence });
}

const alreadySo = (sentence: string): PeopleRefusal => ({ kind: "already-so", sentence });

async function staleRefusal(queries: Queries, person: Person): Promise<PeopleRefusal> {
  const last = await findLastChangeOf(queries, person.id);
  const what = last === undefined ? "" : ` The last change, by ${last.personName}: ${last.sentence}`;
  return {
    kind: "stale",
    sentence: `${person.name} was changed since you opened this page, and nothing was done.${what} Look at it as it is now, and do it again if it is still right.`,
  };
}
