/**
 * Private links: long random addresses that show one thing without an account, a crew's calendar feed or a house to the
 * people who live in it. Each is shown once, a new one takes the place of the one before, and it can be taken back.
 * They do not run out: a calendar would fall silent without a word, and a homeowner keeps her link until the work is done.
 */
import type { Actor } from "../../domain/person.js";
import { fail, ok, type Result } from "../../domain/result.js";
import type { PeopleChange, PeopleChangeKind } from "../../store/people-change-store.js";
import {
  findPrivateLink,
  findPrivateLinkByToken,
  insertPrivateLink,
  listPrivateLinks,
  markPrivateLinkRevoked,
  touchPrivateLink,
  type PrivateLink,
  type PrivateLinkKind,
} from "../../store/private-link-store.js";
import { findTokenHash, hashOf, makeToken } from "../token.js";
import { MINUTE_MS, momentOf, record, type PeopleHouse, type PeopleRefusal } from "./house.js";

/** A crew or a house. */
export interface Subject {
  readonly id: string;
  readonly name: string;
}

export interface PrivateLinks {
  /** The links that stand. */
  listPrivateLinks(kind: PrivateLinkKind): Promise<readonly PrivateLink[]>;
  /** Gives the token, for a subject that has no link. */
  makePrivateLink(kind: PrivateLinkKind, subject: Subject, by: Actor): Promise<Result<string, PeopleRefusal>>;
  /** The same where there is one: from now on the old one opens nothing. */
  renewPrivateLink(
    kind: PrivateLinkKind,
    subject: Subject,
    by: Actor,
  ): Promise<Result<string, PeopleRefusal>>;
  revokePrivateLink(kind: PrivateLinkKind, subject: Subject, by: Actor): Promise<Result<void, PeopleRefusal>>;
  /** The id of the crew or house that the token opens; undefined where it opens none (any more). */
  subjectOfLink(kind: PrivateLinkKind, token: string): Promise<string | undefined>;
}

const ENDING_LENGTH = 4;

type Step = "made" | "renewed" | "revoked";

interface KindWords {
  readonly changes: Readonly<Record<Step, PeopleChangeKind>>;
  readonly sentences: Readonly<Record<Step, (name: string) => string>>;
  readonly has: (name: string) => string;
  readonly hasNone: (name: string) => string;
  readonly subject: (id: string) => PeopleChange["subject"];
}

const KINDS: Readonly<Record<PrivateLinkKind, KindWords>> = {
  feed: {
    changes: { made: "feed-link-made", renewed: "feed-link-renewed", revoked: "feed-link-revoked" },
    sentences: {
      made: (name) => `Made a calendar address for ${name}.`,
      renewed: (name) => `Made a new calendar address for ${name}; the old one shows nothing.`,
      revoked: (name) => `Took back the calendar address of ${name}.`,
    },
    has: (name) => `${name} has a calendar address already. Renew it, which makes the old one void.`,
    hasNone: (name) => `${name} has no calendar address. Somebody may have taken it back; make a new one.`,
    subject: (crewId) => ({ crewId }),
  },
  house: {
    changes: { made: "house-link-made", renewed: "house-link-renewed", revoked: "house-link-revoked" },
    sentences: {
      made: (name) => `Made a homeowner's link for ${name}.`,
      renewed: (name) => `Made a new homeowner's link for ${name}; the old one opens nothing.`,
      revoked: (name) => `Took back the homeowner's link of ${name}.`,
    },
    has: (name) => `${name} has a homeowner's link already. Renew it, which makes the old one void.`,
    hasNone: (name) => `${name} has no homeowner's link. Somebody may have taken it back; make a new one.`,
    subject: (houseId) => ({ houseId }),
  },
};

export function makePrivateLinks({ database, clock }: PeopleHouse): PrivateLinks {
  const give = (
    kind: PrivateLinkKind,
    { id, name }: Subject,
    by: Actor,
    step: "made" | "renewed",
  ): Promise<Result<string, PeopleRefusal>> => {
    const words = KINDS[kind];
    const token = makeToken();
    return database.transaction(async (queries) => {
      const now = momentOf(clock());
      const standing = await findPrivateLink(queries, kind, id);
      if (standing !== undefined && step === "made") {
        return fail({ kind: "already-so", sentence: words.has(name) });
      }
      if (standing === undefined && step === "renewed") {
        return fail({ kind: "unknown", sentence: words.hasNone(name) });
      }
      if (standing !== undefined) await markPrivateLinkRevoked(queries, standing.id, now);
      const ending = token.slice(-ENDING_LENGTH);
      await insertPrivateLink(queries, {
        kind,
        subject: id,
        tokenHash: hashOf(token),
        ending,
        madeAt: now,
        madeBy: by.personName,
      });
      await record(queries, now, by, {
        kind: words.changes[step],
        sentence: words.sentences[step](name),
        why: "",
        subject: words.subject(id),
        before: standing === undefined ? null : { ending: standing.ending },
        after: { ending },
      });
      return ok(token);
    });
  };

  return {
    listPrivateLinks: (kind) => listPrivateLinks(database, kind),
    makePrivateLink: (kind, subject, by) => give(kind, subject, by, "made"),
    renewPrivateLink: (kind, subject, by) => give(kind, subject, by, "renewed"),
    revokePrivateLink: (kind, { id, name }, by) =>
      database.transaction(async (queries) => {
        const words = KINDS[kind];
        const now = momentOf(clock());
        const standing = await findPrivateLink(queries, kind, id);
        if (standing === undefined) return fail({ kind: "unknown", sentence: words.hasNone(name) });
        await markPrivateLinkRevoked(queries, standing.id, now);
        await record(queries, now, by, {
          kind: words.changes.revoked,
          sentence: words.sentences.revoked(name),
          why: "",
          subject: words.subject(id),
          before: { ending: standing.ending },
          after: null,
        });
        return ok(undefined);
      }),
    async subjectOfLink(kind, token) {
      const tokenHash = findTokenHash(token);
      const link =
        tokenHash === undefined ? undefined : await findPrivateLinkByToken(database, kind, tokenHash);
      if (link === undefined) return undefined;
      const now = clock();
      if (link.lastUsedAt === null || now - link.lastUsedAt.getTime() >= MINUTE_MS) {
        await touchPrivateLink(database, link.id, momentOf(now));
      }
      return link.subject;
    },
  };
}
