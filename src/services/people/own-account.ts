/**
 * What a person changes about her own account: the password.
 */
import { toAccountKey, type Person } from "../../domain/person.js";
import { fail, ok, type Result } from "../../domain/result.js";
import { deleteUnusedInvitations } from "../../store/invitation-store.js";
import { findPerson, setPasswordHash } from "../../store/people-store.js";
import { deleteSessionsOf } from "../../store/session-store.js";
import { makeToken } from "../token.js";
import {
  factsOf,
  faulty,
  momentOf,
  record,
  refused,
  SECOND_MS,
  toActor,
  type PeopleFailure,
  type PeopleFault,
  type PeopleHouse,
} from "./house.js";
import { findPasswordFault } from "./password-rules.js";
import { beginSession, type SignedIn } from "./sessions.js";
import { beginTry, forgiveAccount, toTryKeys } from "./sign-in-throttle.js";

export interface PasswordChange {
  readonly oldPassword: string;
  readonly newPassword: string;
  readonly address: string;
}

/** Ends all sessions of the person and begins a new one in their place. Wrong old passwords are throttled as sign-ins are. */
export type ChangePassword = (
  person: Person,
  change: PasswordChange,
) => Promise<Result<SignedIn, PeopleFailure>>;

export function makeChangePassword({ database, clock, hashing }: PeopleHouse): ChangePassword {
  return async (person, { oldPassword, newPassword, address }) => {
    const now = clock();
    const accountKey = toAccountKey(person.account);
    const freeAt = await beginTry(database, toTryKeys(accountKey, address), now);
    if (freeAt !== undefined) {
      const seconds = Math.max(1, Math.ceil((freeAt - now) / SECOND_MS));
      const sentence = `Too many tries have failed. Nothing was changed; wait ${seconds} seconds, then try again.`;
      return fail({
        kind: "refused",
        refusal: { kind: "too-many-tries", sentence, retryAfterSeconds: seconds },
      });
    }
    const found = await findPerson(database, person.id);
    const oldHash = found?.passwordHash;
    const faults: PeopleFault[] = [];
    if (!(await hashing.matches(oldPassword, oldHash))) {
      faults.push({ field: "oldPassword", sentence: "This is not your password of now." });
    } else {
      await forgiveAccount(database, accountKey);
      if (oldPassword === newPassword) {
        faults.push({ field: "password", sentence: "This is the password that you have. Take another one." });
      }
    }
    const weak = findPasswordFault(newPassword, [person.account, person.name]);
    if (weak !== undefined) faults.push({ field: "password", sentence: weak });
    if (faults.length > 0) return fail(faulty(faults));

    const passwordHash = await hashing.hash(newPassword);
    const token = makeToken();
    return database.transaction(async (queries) => {
      const still = await findPerson(queries, person.id);
      if (still === undefined || still.person.isDisabled || still.passwordHash !== oldHash) {
        return fail(
          refused("stale", "Your account has been changed meanwhile, and nothing was done. Try again."),
        );
      }
      const after = await setPasswordHash(queries, person.id, passwordHash);
      await deleteUnusedInvitations(queries, person.id);
      await deleteSessionsOf(queries, person.id);
      await beginSession(queries, now, { personId: person.id, token, tokenBefore: undefined });
      await record(queries, momentOf(now), toActor(after), {
        kind: "password-changed",
        sentence: `${after.name} changed the password, which ended all other sessions.`,
        why: "",
        subject: { personId: person.id },
        before: factsOf(still.person),
        after: factsOf(after),
      });
      return ok({ person: after, token });
    });
  };
}
