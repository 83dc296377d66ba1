/**
 * Who asks, as the gate has found out: a person, the phone of a crew, or nobody whom the house knows.
 */
import type { Response } from "express";
import type { Person } from "../domain/person.js";
import type { Asker } from "./access.js";

export type Who =
  | {
      readonly kind: "person";
      readonly person: Person;
      /** The demo signs in by itself: there is no session to end and no password to change. */
      readonly isAutomatic: boolean;
    }
  | { readonly kind: "crew"; readonly crewIds: readonly string[] }
  | { readonly kind: "nobody" };

export const NOBODY: Who = { kind: "nobody" };

/** The role by which the access table knows them. */
export function askerOf(who: Who): Asker {
  if (who.kind === "person") return who.person.role;
  return who.kind === "crew" ? "crew-lead" : "nobody";
}

/** Of a request that has passed the gate. */
export function whoOf(res: Response): Who {
  // Proof of the cast: the gate alone writes it, before every route.
  return (res.locals["who"] as Who | undefined) ?? NOBODY;
}
