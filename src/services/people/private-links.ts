/**
 * Private links: long random addresses that open one thing without an account: a crew's day sheets, its calendar feed, or
 * a house to the people who live in it. Each is shown once, a new one takes the place of the one before, and it can be
 * taken back at any time.
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
import { DAY_MS, MINUTE_MS, momentOf, record, type PeopleHouse, type PeopleRefusal } from "./house.js";

/** A crew or a house. */
export interface Subject {
  readonly id: string;
  readonly name: string;
}

/** What a token opens. */
export interface OpenedLink {
  /** The id of the crew, or of the house. */
  readonly subject: string;
  /** Null where it stands until it is taken back. */
  readonly expiresAt: Date | null;
}

export interface PrivateLinks {
  /** The links that stand, those that have run out included. */
  listPrivateLinks(kind: PrivateLinkKind): Promise<readonly PrivateLink[]>;
  /** Gives the token, for a subject that has no link that is good. */
  makePrivateLink(kind: PrivateLinkKind, subject: Subject, by: Actor): Promise<Result<string, PeopleRefusal>>;
  /** The same where there is one: from now on the old one opens nothing. */
  renewPrivateLink(
    kind: PrivateLinkKind,
    subject: Subject,
    by: Actor,
  ): Promise<Result<string, PeopleRefusal>>;
  revokePrivateLink(kind: PrivateLinkKind, subject: Subject, by: Actor): Promise<Result<void, PeopleRefusal>>;
  /** Undefined where the token opens nothing of that kind (any more). */
  openPrivateLink(kind: PrivateLinkKind, token: string): Promise<OpenedLink | undefined>;
}

const ENDING_LENGTH = 4;
/** Longer than a season, so that nobody is cut off on a roof; short enough that a lost phone does not read for ever. */
const CREW_LINK_LASTS_MS = 180 * DAY_MS;

type Step = "made" | "renewed" | "revoked";

interface KindWords {
  readonly changes: Readonly<Record<Step, PeopleChangeKind>>;
  readonly sentences: Readonly<Record<Step, (name: string) => string>>;
  readonly has: (name: string) => string;
  readonly hasNone: (name: string) => string;
  readonly subject: (id: string) => PeopleChange["subject"];
  /** Null for good: a calendar would fall silent without a word, and a homeowner keeps hers until the work is done. */
  readonly lastsMs: number | null;
}

const KINDS: Readonly<Record<PrivateLinkKind, KindWords>> = {
  crew: {
    changes: { made: "crew-link-made", renewed: "crew-link-renewed", revoked: "crew-link-revoked" },
    sentences: {
      made: (name) => `Made a link to the day sheets of ${name}.`,
      renewed: (name) => `Made a new link to the day sheets of ${name}; the old one opens nothing.`,
      revoked: (name) => `Took back the link to the day sheets of ${name}.`,
    },
    has: (name) => `${name} has a link already. Renew it, which makes the old one void.`,
    hasNone: (name) => `${name} has no link. Somebody may have taken it back; make a new one.`,
    subject: (crewId) => ({ crewId }),
    lastsMs: CREW_LINK_LASTS_MS,
  },
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
    lastsMs: null,
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
    lastsMs: null,
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
      const now = clock();
      const standing = await findPrivateLink(queries, kind, id);
      if (standing !== undefined && isGood(standing, now) && step === "made") {
        return fail({ kind: "already-so", sentence: words.has(name) });
      }
      if (standing === undefined && step === "renewed") {
        return fail({ kind: "unknown", sentence: words.hasNone(name) });
      }
      if (standing !== undefined) await markPrivateLinkRevoked(queries, standing.id, momentOf(now));
      const link = {
        kind,
        subject: id,
        tokenHash: hashOf(token),
        ending: token.slice(-ENDING_LENGTH),
        madeAt: momentOf(now),
        madeBy: by.personName,
        expiresAt: words.lastsMs === null ? null : momentOf(now + words.lastsMs),
      };
      await insertPrivateLink(queries, link);
      await record(queries, momentOf(now), by, {
        kind: words.changes[step],
        sentence: words.sentences[step](name),
        why: "",
        subject: words.subject(id),
        before: standing === undefined ? null : factsOfLink(standing),
        after: factsOfLink(link),
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
          before: factsOfLink(standing),
          after: null,
        });
        return ok(undefined);
      }),
    async openPrivateLink(kind, token) {
      const tokenHash = findTokenHash(token);
      const link =
        tokenHash === undefined ? undefined : await findPrivateLinkByToken(database, kind, tokenHash);
      const now = clock();
      if (link === undefined || !isGood(link, now)) return undefined;
      if (link.lastUsedAt === null || now - link.lastUsedAt.getTime() >= MINUTE_MS) {
        await touchPrivateLink(database, link.id, momentOf(now));
      }
      return { subject: link.subject, expiresAt: link.expiresAt };
    },
  };
}

const isGood = ({ expiresAt }: Pick<PrivateLink, "expiresAt">, now: number): boolean =>
  expiresAt === null || now < expiresAt.getTime();

const factsOfLink = ({ ending, expiresAt }: Pick<PrivateLink, "ending" | "expiresAt">) => ({
  ending,
  ...(expiresAt && { expiresAt: expiresAt.toISOString() }),
});
