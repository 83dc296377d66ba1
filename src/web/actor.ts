/** Who makes a change, for the record: the person who is signed in. */
import type { Response } from "express";
import type { Actor } from "../domain/person.js";

/** Of a request that has passed the gate, which puts the person into `res.locals.actor`. */
export function actorOf(res: Response): Actor {
  const actor: unknown = res.locals["actor"];
  if (isActor(actor)) return actor;
  return { personId: null, personName: "Nobody signed in" };
}

function isActor(value: unknown): value is Actor {
  return typeof value === "object" && value !== null && "personId" in value && "personName" in value;
}
