/** A time as a wall clock shows it, in the writing of a company file: what a form's date-and-time field takes and gives. */
import { civilDateAt, clockAt, type Minute } from "./time.js";

/** `2026-12-07T18:00`, without an offset. */
export function toWallText(minute: Minute, zone: string): string {
  return `${civilDateAt(minute, zone)}T${clockAt(minute, zone)}`;
}
