/**
 * People as rows. What they may be is the domain's to say, and who may change them the services'.
 */
import type { Person, Role } from "../domain/person.js";
import { present } from "../domain/result.js";
import type { Queries } from "./database.js";

/** A person with what her password is checked against; undefined as long as she has set none. */
export interface PersonWithHash {
  readonly person: Person;
  readonly passwordHash: string | undefined;
}

export interface NewPerson {
  readonly name: string;
  readonly account: string;
  /** Of the account, folded. */
  readonly accountKey: string;
  readonly role: Role;
  readonly passwordHash: string | null;
  readonly madeAt: Date;
}

export interface PersonRow {
  readonly id: number;
  readonly name: string;
  readonly account: string;
  readonly role: Role;
  readonly version: number;
  readonly password_hash: string | null;
  readonly disabled_at: Date | null;
}

/** Columns of a PersonRow, of `person p`. */
export const PERSON_COLUMNS = "p.id, p.name, p.account, p.role, p.version, p.password_hash, p.disabled_at";

export function toPerson(row: PersonRow): Person {
  return {
    id: row.id,
    name: row.name,
    account: row.account,
    role: row.role,
    version: row.version,
    hasPassword: row.password_hash !== null,
    isDisabled: row.disabled_at !== null,
  };
}

export async function findPerson(queries: Queries, id: number): Promise<PersonWithHash | undefined> {
  return toFound(
    await queries.query<PersonRow>(`select ${PERSON_COLUMNS} from person p where p.id = $1`, [id]),
  );
}

export async function findPersonByAccount(
  queries: Queries,
  accountKey: string,
): Promise<PersonWithHash | undefined> {
  return toFound(
    await queries.query<PersonRow>(`select ${PERSON_COLUMNS} from person p where p.account_key = $1`, [
      accountKey,
    ]),
  );
}

function toFound([row]: readonly PersonRow[]): PersonWithHash | undefined {
  return row === undefined
    ? undefined
    : { person: toPerson(row), passwordHash: row.password_hash ?? undefined };
}

/** Everybody, those who are disabled included, in the order in which they came. */
export async function listPersons(queries: Queries): Promise<readonly Person[]> {
  const rows = await queries.query<PersonRow>(`select ${PERSON_COLUMNS} from person p order by p.id`);
  return rows.map(toPerson);
}

/** How many owners can sign in now. */
export async function countWorkingOwners(queries: Queries): Promise<number> {
  const [row] = await queries.query<{ count: number }>(
    `select count(*) as count from person
      where role = 'owner' and password_hash is not null and disabled_at is null`,
  );
  return present(row, "the count").count;
}

export async function insertPerson(queries: Queries, person: NewPerson): Promise<Person> {
  const [row] = await queries.query<PersonRow>(
    `insert into person as p (name, account, account_key, role, password_hash, made_at)
     values ($1, $2, $3, $4, $5, $6) returning ${PERSON_COLUMNS}`,
    [person.name, person.account, person.accountKey, person.role, person.passwordHash, person.madeAt],
  );
  return toPerson(present(row, "the new person"));
}

/** Each of these counts the person's version up, and gives her as she is afterwards. */
export const setRole = (queries: Queries, id: number, role: Role): Promise<Person> =>
  update(queries, "role = $2", [id, role]);

export const setPasswordHash = (queries: Queries, id: number, hash: string): Promise<Person> =>
  update(queries, "password_hash = $2", [id, hash]);

export const setDisabledAt = (queries: Queries, id: number, at: Date | null): Promise<Person> =>
  update(queries, "disabled_at = $2", [id, at]);

async function update(
  queries: Queries,
  assignment: string,
  values: readonly (number | string | Date | null)[],
): Promise<Person> {
  const [row] = await queries.query<PersonRow>(
    `update person as p set ${assignment}, version = version + 1 where id = $1 returning ${PERSON_COLUMNS}`,
    values,
  );
  return toPerson(present(row, "the person"));
}

/** The same password under a newer hash: no change of the person. Nothing where the password has changed meanwhile. */
export async function replacePasswordHash(
  queries: Queries,
  id: number,
  { from, to }: { readonly from: string; readonly to: string },
): Promise<void> {
  await queries.query("update person set password_hash = $3 where id = $1 and password_hash = $2", [
    id,
    from,
    to,
  ]);
}
