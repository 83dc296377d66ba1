/**
 * People with rights: who may come in, and what is done about it. Each part has a file of its own in people/.
 */
import type { Database } from "../store/database.js";
import { listPeopleChanges, type PeopleChange } from "../store/people-change-store.js";
import type { PeopleHouse } from "./people/house.js";
import { makeInvitations, type Invitations } from "./people/invitations.js";
import { makeManagement, type Management } from "./people/management.js";
import { makeChangePassword, type ChangePassword } from "./people/own-account.js";
import { makePasswordHashing, type PasswordCost } from "./people/password-hash.js";
import { makePrivateLinks, type PrivateLinks } from "./people/private-links.js";
import { makeSessions, type Sessions } from "./people/sessions.js";
import { makeSignIn, type SignIn } from "./people/sign-in.js";

export interface People extends Sessions, Invitations, Management, PrivateLinks {
  readonly signIn: SignIn;
  readonly changePassword: ChangePassword;
  /** What was done about people and crew links: the newest first, at most `most`, of those before `beforeId`. */
  listChanges(page: { readonly most: number; readonly beforeId?: number }): Promise<readonly PeopleChange[]>;
}

export interface PeopleOptions {
  /** Milliseconds since 1970; the machine's clock where left out. */
  readonly clock?: () => number;
  /** What a password hash costs; lower only where many are made and nothing is protected. */
  readonly passwordCost?: PasswordCost;
}

/** People on a database that has been migrated. */
export function openPeople(database: Database, options: PeopleOptions = {}): People {
  const house: PeopleHouse = {
    database,
    clock: options.clock ?? Date.now,
    hashing: makePasswordHashing(options.passwordCost),
  };
  return {
    ...makeSessions(house),
    ...makeInvitations(house),
    ...makeManagement(house),
    ...makePrivateLinks(house),
    signIn: makeSignIn(house),
    changePassword: makeChangePassword(house),
    listChanges: (page) => listPeopleChanges(database, page),
  };
}
