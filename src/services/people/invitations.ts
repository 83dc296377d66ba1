/**
 * One-time links: the first owner's, a new person's, and the one that replaces a password. Whoever opens one sets a
 * password and is signed in.
 */
import { parseAccount, parsePersonName, toAccountKey, type Actor, type Person } from "../../domain/person.js";
import { fail, ok, type Result } from "../../domain/result.js";
import type { Queries } from "../../store/database.js";
import {
  deleteUnusedInvitations,
  findStoredInvitation,
  markInvitationUsed,
  replaceInvitation,
  type InvitationPurpose,
  type StoredInvitation,
} from "../../store/invitation-store.js";
import {
  countWorkingOwners,
  findPersonByAccount,
  insertPerson,
  setPasswordHash,
} from "../../store/people-store.js";
import { deleteSessionsOf } from "../../store/session-store.js";
import { findTokenHash, hashOf, makeToken } from "../token.js";
import {
  DAY_MS,
  factsOf,
  faulty,
  momentOf,
  record,
  refused,
  toActor,
  type PeopleFailure,
  type PeopleFault,
  type PeopleHouse,
} from "./house.js";
import { findPasswordFault } from "./password-rules.js";
import { beginSession, type SignedIn } from "./sessions.js";
import { forgiveAccount } from "./sign-in-throttle.js";

/** What a link is good for, for the page that it opens. */
export interface Invitation {
  readonly purpose: InvitationPurpose;
  /** Undefined for the first owner, who says so herself. */
  readonly person: Person | undefined;
}

export interface Redemption {
  /** Name and account count only for the first owner; the others have theirs already. */
  readonly name: string;
  readonly account: string;
  readonly password: string;
  /** The session that the browser holds already, which ends. */
  readonly tokenBefore?: string | undefined;
}

export interface Invitations {
  /** Where nobody can sign in as owner: a new link with which somebody becomes it, the one before being void. */
  firstRun(): Promise<string | undefined>;
  /** What the link is good for; undefined where it is good for nothing (any more). */
  findInvitation(token: string): Promise<Invitation | undefined>;
  /** Sets the password, uses the link up, ends the person's other sessions, signs in. */
  redeem(token: string, redemption: Redemption): Promise<Result<SignedIn, PeopleFailure>>;
}

const LASTS_MS: Readonly<Record<InvitationPurpose, number>> = {
  "first-owner": DAY_MS,
  welcome: 7 * DAY_MS,
  reset: DAY_MS,
};

const GONE = refused(
  "link-gone",
  "This link is not good any more: it has been used, it has run out, or a newer one has taken its place. Ask for a new one.",
);

/** Makes a person's link, in a transaction; the one before is void. Gives the token. */
export async function inviteIn(
  queries: Queries,
  nowMs: number,
  invitation: {
    readonly token: string;
    readonly purpose: InvitationPurpose;
    readonly personId: number | null;
  },
): Promise<void> {
  await replaceInvitation(queries, {
    tokenHash: hashOf(invitation.token),
    purpose: invitation.purpose,
    personId: invitation.personId,
    madeAt: momentOf(nowMs),
    expiresAt: momentOf(nowMs + LASTS_MS[invitation.purpose]),
  });
}

export function makeInvitations({ database, clock, hashing }: PeopleHouse): Invitations {
  return {
    firstRun: () => {
      const token = makeToken();
      return database.transaction(async (queries) => {
        if ((await countWorkingOwners(queries)) > 0) return undefined;
        await inviteIn(queries, clock(), { token, purpose: "first-owner", personId: null });
        return token;
      });
    },

    async findInvitation(token) {
      const stored = await findHolding(database, findTokenHash(token), clock());
      return stored === undefined ? undefined : { purpose: stored.purpose, person: stored.person };
    },

    async redeem(token, redemption) {
      const tokenHash = findTokenHash(token);
      const stored = await findHolding(database, tokenHash, clock());
      if (stored === undefined || tokenHash === undefined) return fail(GONE);
      const name = stored.person === undefined ? parsePersonName(redemption.name) : ok(stored.person.name);
      const account =
        stored.person === undefined ? parseAccount(redemption.account) : ok(stored.person.account);
      const weak = findPasswordFault(redemption.password, [
        account.ok ? account.value : redemption.account,
        name.ok ? name.value : redemption.name,
      ]);
      if (!name.ok || !account.ok || weak !== undefined) {
        const faults: PeopleFault[] = [];
        if (!name.ok) faults.push({ field: "name", sentence: name.error });
        if (!account.ok) faults.push({ field: "account", sentence: account.error });
        if (weak !== undefined) faults.push({ field: "password", sentence: weak });
        return fail(faulty(faults));
      }
      const settings = {
        name: name.value,
        account: account.value,
        passwordHash: await hashing.hash(redemption.password),
      };
      const sessionToken = makeToken();
      return database.transaction(async (queries) => {
        const now = clock();
        // Once more: of two who use the link at once, one comes too late.
        const holding = await findHolding(queries, tokenHash, now);
        if (holding === undefined) return fail(GONE);
        const person =
          holding.person === undefined
            ? await makeFirstOwner(queries, now, settings)
            : await setInvitedPassword(queries, now, holding.purpose, holding.person, settings.passwordHash);
        if (!person.ok) return person;
        await markInvitationUsed(queries, tokenHash, momentOf(now));
        await deleteUnusedInvitations(queries, holding.person?.id ?? null);
        await beginSession(queries, now, {
          personId: person.value.id,
          token: sessionToken,
          tokenBefore: redemption.tokenBefore,
        });
        return ok({ person: person.value, token: sessionToken });
      });
    },
  };
}

/** The invitation as long as it is good: not used, not run out, its person not disabled, no owner before the first. */
async function findHolding(
  queries: Queries,
  tokenHash: string | undefined,
  nowMs: number,
): Promise<StoredInvitation | undefined> {
  const stored = tokenHash === undefined ? undefined : await findStoredInvitation(queries, tokenHash);
  if (stored === undefined || stored.usedAt !== undefined) return undefined;
  if (nowMs >= stored.expiresAt.getTime() || stored.person?.isDisabled === true) return undefined;
  if (stored.person === undefined && (await countWorkingOwners(queries)) > 0) return undefined;
  return stored;
}

async function makeFirstOwner(
  queries: Queries,
  nowMs: number,
  settings: { readonly name: string; readonly account: string; readonly passwordHash: string },
): Promise<Result<Person, PeopleFailure>> {
  const accountKey = toAccountKey(settings.account);
  if ((await findPersonByAccount(queries, accountKey)) !== undefined) {
    return fail(
      faulty([{ field: "account", sentence: "Somebody has this account name already. Choose another one." }]),
    );
  }
  const at = momentOf(nowMs);
  const person = await insertPerson(queries, { ...settings, accountKey, role: "owner", madeAt: at });
  await record(queries, at, toActor(person), {
    kind: "first-owner",
    sentence: `${person.name} became the first owner, with the link of the first start.`,
    why: "",
    subject: { personId: person.id },
    before: null,
    after: factsOf(person),
  });
  return ok(person);
}

async function setInvitedPassword(
  queries: Queries,
  nowMs: number,
  purpose: InvitationPurpose,
  before: Person,
  passwordHash: string,
): Promise<Result<Person, PeopleFailure>> {
  const person = await setPasswordHash(queries, before.id, passwordHash);
  await deleteSessionsOf(queries, person.id);
  await forgiveAccount(queries, toAccountKey(person.account));
  const by: Actor = toActor(person);
  await record(queries, momentOf(nowMs), by, {
    kind: purpose === "welcome" ? "invitation-answered" : "password-reset",
    sentence:
      purpose === "welcome"
        ? `${person.name} answered the invitation and set a password.`
        : `${person.name} set a new password with a reset link.`,
    why: "",
    subject: { personId: person.id },
    before: factsOf(before),
    after: factsOf(person),
  });
  return ok(person);
}
