/**
 * How an open page can tell that something else stands than what it shows. Hashes, because a crew's phone is to learn
 * that something has changed and not how much goes on in the office.
 */
import { createHash } from "node:crypto";
import type { DeskState } from "../services/desk.js";

export interface LiveStamp {
  /** Another one after each change. */
  readonly company: string;
  /** Another one also for a better plan of the same company. */
  readonly plan: string;
}

/** Of what stands; the same in every process that serves the company. */
export function liveStampOf({ version, planId }: Pick<DeskState, "version" | "planId">): LiveStamp {
  return { company: hashOf(`company ${version}`), plan: hashOf(`company ${version} plan ${planId}`) };
}

/** Of the reports that the office has marked; `mark` is another number after each. */
export function reportsStampOf(mark: number): string {
  return hashOf(`reports ${mark}`);
}

/** What a page needs to keep itself true: where to listen, and what it shows. */
export interface LiveView extends LiveStamp {
  readonly address: string;
  /** Of the reports that are settled; empty on a page for a crew. */
  readonly reports: string;
}

function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("base64url").slice(0, 12);
}
