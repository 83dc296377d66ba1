/**
 * The ripples of a test's database, worked out by one thread for all tests of a process, with which it ends: to start a thread
 * takes longer than most tests. What goes wrong while a test's database is taken away is nobody's.
 */
import {
  openRipples,
  startRippleThread,
  type OpenRipples,
  type RippleThread,
} from "../../src/services/ripples.js";
import type { Database } from "../../src/store/database.js";

let thread: RippleThread | undefined;

export function sharedRipples(database: Database): OpenRipples {
  thread ??= startRippleThread();
  return openRipples(database, { thread, log: () => undefined });
}
