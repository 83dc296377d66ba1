/**
 * Links for crew leads: a long random address that opens the day sheets of one crew, without an account. It is shown once;
 * a new one takes the place of the one before, and it can be taken back at any time.
 */
import type { Actor } from "../../domain/person.js";
import { fail, ok, type Result } from "../../domain/result.js";
import {
  findCrewLink,
  findCrewLinkByToken,
  insertCrewLink,
  listCrewLinks,
  markCrewLinkRevoked,
  touchCrewLink,
  type CrewLink,
} from "../../store/crew-link-store.js";
import type { PeopleChangeKind } from "../../store/people-change-store.js";
import { findTokenHash, hashOf, makeToken } from "../token.js";
import { DAY_MS, MINUTE_MS, momentOf, record, type PeopleHouse, type PeopleRefusal } from "./house.js";

/** Longer than a season, so that nobody is cut off on a roof; short enough that a lost phone does not read for ever. */
const LASTS_MS = 180 * DAY_MS;
const ENDING_LENGTH = 4;

export interface CrewNamed {
  readonly id: string;
  readonly name: string;
}

export interface CrewOfLink {
  readonly crewId: string;
  readonly expiresAt: Date;
}

export interface CrewLinks {
  /** The links that stand, run-out ones included. */
  listCrewLinks(): Promise<readonly CrewLink[]>;
  /** Gives the token, for a crew that has no link that is good. */
  makeCrewLink(crew: CrewNamed, by: Actor): Promise<Result<string, PeopleRefusal>>;
  /** The same where there is one: from now on it opens nothing. */
  renewCrewLink(crew: CrewNamed, by: Actor): Promise<Result<string, PeopleRefusal>>;
  revokeCrewLink(crew: CrewNamed, by: Actor): Promise<Result<void, PeopleRefusal>>;
  /** Whose sheets the token opens; undefined where it opens none (any more). */
  crewOfLink(token: string): Promise<CrewOfLink | undefined>;
}

export function makeCrewLinks({ database, clock }: PeopleHouse): CrewLinks {
  const give = (
    crew: CrewNamed,
    by: Actor,
    kind: "crew-link-made" | "crew-link-renewed",
  ): Promise<Result<string, PeopleRefusal>> => {
    const token = makeToken();
    return database.transaction(async (queries) => {
      const now = clock();
      const standing = await findCrewLink(queries, crew.id);
      const isGood = standing !== undefined && standing.expiresAt.getTime() > now;
      if (isGood && kind === "crew-link-made") {
        const sentence = `${crew.name} has a link already. Renew it, which makes the old one void.`;
        return fail({ kind: "already-so", sentence });
      }
      if (standing === undefined && kind === "crew-link-renewed") return fail(noLink(crew));
      if (standing !== undefined) await markCrewLinkRevoked(queries, standing.id, momentOf(now));
      const link = {
        crewId: crew.id,
        tokenHash: hashOf(token),
        ending: token.slice(-ENDING_LENGTH),
        madeAt: momentOf(now),
        madeBy: by.personName,
        expiresAt: momentOf(now + LASTS_MS),
      };
      await insertCrewLink(queries, link);
      await record(queries, momentOf(now), by, {
        kind,
        sentence: SENTENCES[kind](crew.name),
        why: "",
        subject: { crewId: crew.id },
        before: standing === undefined ? null : factsOfLink(standing),
        after: factsOfLink(link),
      });
      return ok(token);
    });
  };

  return {
    listCrewLinks: () => listCrewLinks(database),
    makeCrewLink: (crew, by) => give(crew, by, "crew-link-made"),
    renewCrewLink: (crew, by) => give(crew, by, "crew-link-renewed"),
    revokeCrewLink: (crew, by) =>
      database.transaction(async (queries) => {
        const now = momentOf(clock());
        const standing = await findCrewLink(queries, crew.id);
        if (standing === undefined) return fail(noLink(crew));
        await markCrewLinkRevoked(queries, standing.id, now);
        await record(queries, now, by, {
          kind: "crew-link-revoked",
          sentence: SENTENCES["crew-link-revoked"](crew.name),
          why: "",
          subject: { crewId: crew.id },
          before: factsOfLink(standing),
          after: null,
        });
        return ok(undefined);
      }),
    async crewOfLink(token) {
      const tokenHash = findTokenHash(token);
      const link = tokenHash === undefined ? undefined : await findCrewLinkByToken(database, tokenHash);
      const now = clock();
      if (link === undefined || link.expiresAt.getTime() <= now) return undefined;
      if (link.lastUsedAt === undefined || now - link.lastUsedAt.getTime() >= MINUTE_MS) {
        await touchCrewLink(database, link.id, momentOf(now));
      }
      return { crewId: link.crewId, expiresAt: link.expiresAt };
    },
  };
}

const SENTENCES = {
  "crew-link-made": (crew: string) => `Made a link to the day sheets of ${crew}.`,
  "crew-link-renewed": (crew: string) =>
    `Made a new link to the day sheets of ${crew}; the old one opens nothing.`,
  "crew-link-revoked": (crew: string) => `Took back the link to the day sheets of ${crew}.`,
} as const satisfies { [K in PeopleChangeKind & `crew-link-${string}`]: (crew: string) => string };

const noLink = (crew: CrewNamed): PeopleRefusal => ({
  kind: "unknown",
  sentence: `${crew.name} has no link. Somebody may have taken it back; make a new one.`,
});

const factsOfLink = (link: { readonly ending: string; readonly expiresAt: Date }) => ({
  ending: link.ending,
  expiresAt: link.expiresAt.toISOString(),
});
