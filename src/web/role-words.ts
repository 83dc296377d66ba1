/** What each role may do, in words for people. */
import type { Role } from "../domain/person.js";

export const ROLE_WORDS = {
  owner: "does everything, people and the company file included",
  dispatcher: "plans: changes houses, crews, holds, and gives crews their links",
  viewer: "reads the board, the houses and the waiting sheet, and changes nothing",
} as const satisfies Record<Role, string>;
