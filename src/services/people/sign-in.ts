/**
 * Signing in with account and password. Whoever fails learns nothing of why, neither by the words nor by what is done:
 * the same queries and the same hashing, whether the account exists or not.
 */
import { toAccountKey } from "../../domain/person.js";
import { fail, ok, type Result } from "../../domain/result.js";
import { findPerson, findPersonByAccount, replacePasswordHash } from "../../store/people-store.js";
import { makeToken } from "../token.js";
import { SECOND_MS, type PeopleHouse, type PeopleRefusal } from "./house.js";
import { beginSession, clearEndedSessions, type SignedIn } from "./sessions.js";
import { beginTry, settleTry, toTryKeys } from "./sign-in-throttle.js";

export interface SignInRequest {
  readonly account: string;
  readonly password: string;
  /** The network address that the request came from. */
  readonly address: string;
  /** The session that the browser holds already, which ends. */
  readonly tokenBefore?: string | undefined;
}

export type SignIn = (request: SignInRequest) => Promise<Result<SignedIn, PeopleRefusal>>;

const NOT_RECOGNISED: PeopleRefusal = {
  kind: "not-recognised",
  sentence: "Account and password do not go together. Check both, and try again.",
};

export function makeSignIn({ database, clock, hashing }: PeopleHouse): SignIn {
  return async ({ account, password, address, tokenBefore }) => {
    const now = clock();
    const accountKey = toAccountKey(account);
    const keys = toTryKeys(accountKey, address);
    const freeAt = await beginTry(database, keys, now);
    if (freeAt !== undefined) return fail(tooManyTries(freeAt - now));

    const found = await findPersonByAccount(database, accountKey);
    const hash = found?.person.isDisabled === false ? found.passwordHash : undefined;
    const isRight = await hashing.matches(password, hash);
    if (!isRight || found === undefined || hash === undefined) return fail(NOT_RECOGNISED);

    const newHash = hashing.isOutdated(hash) ? await hashing.hash(password) : undefined;
    const token = makeToken();
    const person = await database.transaction(async (queries) => {
      // Once more: she may have been disabled, or her password replaced, while the password was looked at.
      const still = await findPerson(queries, found.person.id);
      if (still === undefined || still.person.isDisabled || still.passwordHash !== hash) return undefined;
      if (newHash !== undefined) {
        await replacePasswordHash(queries, still.person.id, { from: hash, to: newHash });
      }
      await beginSession(queries, now, { personId: still.person.id, token, tokenBefore });
      return still.person;
    });
    if (person === undefined) return fail(NOT_RECOGNISED);
    // Outside the transaction, for many who sign in at once would only get in each other's way here.
    await settleTry(database, keys, now);
    await clearEndedSessions(database, now);
    return ok({ person, token });
  };
}

function tooManyTries(waitMs: number): PeopleRefusal {
  const seconds = Math.max(1, Math.ceil(waitMs / SECOND_MS));
  const wait = seconds < 90 ? `${seconds} seconds` : `${Math.ceil(seconds / 60)} minutes`;
  return {
    kind: "too-many-tries",
    sentence: `Too many tries have failed. This one was not looked at; wait ${wait}, then try again.`,
    retryAfterSeconds: seconds,
  };
}
