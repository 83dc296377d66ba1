/**
 * Private links as rows: to a crew's day sheets, to its calendar feed, to a house. Of each kind and subject at most one
 * stands.
 */
import type { Queries } from "./database.js";

export type PrivateLinkKind = "crew" | "feed" | "house";

export interface PrivateLink {
  readonly id: number;
  /** The crew's id, or the house's. */
  readonly subject: string;
  /** The last four characters of its token. */
  readonly ending: string;
  readonly madeAt: Date;
  /** Who made it, as she was called then. */
  readonly madeBy: string;
  /** Null where it stands until it is taken back. */
  readonly expiresAt: Date | null;
  /** Null where nobody has opened it. */
  readonly lastUsedAt: Date | null;
}

export interface NewPrivateLink {
  readonly kind: PrivateLinkKind;
  readonly subject: string;
  readonly tokenHash: string;
  readonly ending: string;
  readonly madeAt: Date;
  readonly madeBy: string;
  readonly expiresAt: Date | null;
}

const COLUMNS = `id, subject, ending, made_at as "madeAt", made_by as "madeBy", expires_at as "expiresAt",
  last_used_at as "lastUsedAt"`;

/** All that are not revoked, those that have run out included. */
export function listPrivateLinks(queries: Queries, kind: PrivateLinkKind): Promise<readonly PrivateLink[]> {
  return queries.query<PrivateLink>(
    `select ${COLUMNS} from private_link where kind = $1 and revoked_at is null order by subject`,
    [kind],
  );
}

export async function findPrivateLink(
  queries: Queries,
  kind: PrivateLinkKind,
  subject: string,
): Promise<PrivateLink | undefined> {
  const [link] = await queries.query<PrivateLink>(
    `select ${COLUMNS} from private_link where kind = $1 and subject = $2 and revoked_at is null`,
    [kind, subject],
  );
  return link;
}

export async function findPrivateLinkByToken(
  queries: Queries,
  kind: PrivateLinkKind,
  tokenHash: string,
): Promise<PrivateLink | undefined> {
  const [link] = await queries.query<PrivateLink>(
    `select ${COLUMNS} from private_link where kind = $1 and token_hash = $2 and revoked_at is null`,
    [kind, tokenHash],
  );
  return link;
}

export async function insertPrivateLink(queries: Queries, link: NewPrivateLink): Promise<void> {
  await queries.query(
    `insert into private_link (kind, subject, token_hash, ending, made_at, made_by, expires_at)
     values ($1, $2, $3, $4, $5, $6, $7)`,
    [link.kind, link.subject, link.tokenHash, link.ending, link.madeAt, link.madeBy, link.expiresAt],
  );
}

export async function markPrivateLinkRevoked(queries: Queries, id: number, at: Date): Promise<void> {
  await queries.query("update private_link set revoked_at = $2 where id = $1", [id, at]);
}

export async function touchPrivateLink(queries: Queries, id: number, at: Date): Promise<void> {
  await queries.query("update private_link set last_used_at = $2 where id = $1", [id, at]);
}
