/** The crew that a crew's form is about, and who speaks by it. */
import type { Response } from "express";
import type { Company, Crew } from "../domain/company-schema.js";
import type { Actor } from "../domain/person.js";
import { actorOf } from "./actor.js";
import { HttpRefusal } from "./http-refusal.js";
import { whoOf } from "./who.js";

/** Throws 404 where there is no such crew. */
export function crewAsked({ crews }: Company, id: string): Crew {
  const crew = crews.find((candidate) => candidate.id === id);
  if (crew !== undefined) return crew;
  throw new HttpRefusal(404, `There is no crew "${id}".`, `No hay ninguna cuadrilla "${id}".`);
}

/** A crew's phone speaks for its lead. */
export function actorForCrew(res: Response, crew: Crew): Actor {
  return whoOf(res).kind === "crew" ? { personId: null, personName: crew.lead } : actorOf(res);
}
