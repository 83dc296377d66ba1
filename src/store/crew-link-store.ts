/**
 * Crew links as rows. A crew has at most one that stands.
 */
import type { Queries } from "./database.js";

export interface CrewLink {
  readonly id: number;
  readonly crewId: string;
  /** The last four characters of its token. */
  readonly ending: string;
  readonly madeAt: Date;
  /** Who made it, as she was called then. */
  readonly madeBy: string;
  readonly expiresAt: Date;
  readonly lastUsedAt: Date | undefined;
}

export interface NewCrewLink {
  readonly crewId: string;
  readonly tokenHash: string;
  readonly ending: string;
  readonly madeAt: Date;
  readonly madeBy: string;
  readonly expiresAt: Date;
}

interface CrewLinkRow {
  readonly id: number;
  readonly crew_id: string;
  readonly ending: string;
  readonly made_at: Date;
  readonly made_by: string;
  readonly expires_at: Date;
  readonly last_used_at: Date | null;
}

const COLUMNS = "id, crew_id, ending, made_at, made_by, expires_at, last_used_at";

function toCrewLink(row: CrewLinkRow): CrewLink {
  return {
    id: row.id,
    crewId: row.crew_id,
    ending: row.ending,
    madeAt: row.made_at,
    madeBy: row.made_by,
    expiresAt: row.expires_at,
    lastUsedAt: row.last_used_at ?? undefined,
  };
}

/** All that are not revoked, expired ones included. */
export async function listCrewLinks(queries: Queries): Promise<readonly CrewLink[]> {
  const rows = await queries.query<CrewLinkRow>(
    `select ${COLUMNS} from crew_link where revoked_at is null order by crew_id`,
  );
  return rows.map(toCrewLink);
}

export async function findCrewLink(queries: Queries, crewId: string): Promise<CrewLink | undefined> {
  const [row] = await queries.query<CrewLinkRow>(
    `select ${COLUMNS} from crew_link where crew_id = $1 and revoked_at is null`,
    [crewId],
  );
  return row === undefined ? undefined : toCrewLink(row);
}

export async function findCrewLinkByToken(
  queries: Queries,
  tokenHash: string,
): Promise<CrewLink | undefined> {
  const [row] = await queries.query<CrewLinkRow>(
    `select ${COLUMNS} from crew_link where token_hash = $1 and revoked_at is null`,
    [tokenHash],
  );
  return row === undefined ? undefined : toCrewLink(row);
}

export async function insertCrewLink(queries: Queries, link: NewCrewLink): Promise<void> {
  await queries.query(
    `insert into crew_link (crew_id, token_hash, ending, made_at, made_by, expires_at) values ($1, $2, $3, $4, $5, $6)`,
    [link.crewId, link.tokenHash, link.ending, link.madeAt, link.madeBy, link.expiresAt],
  );
}

export async function markCrewLinkRevoked(queries: Queries, id: number, at: Date): Promise<void> {
  await queries.query("update crew_link set revoked_at = $2 where id = $1", [id, at]);
}

export async function touchCrewLink(queries: Queries, id: number, at: Date): Promise<void> {
  await queries.query("update crew_link set last_used_at = $2 where id = $1", [id, at]);
}
