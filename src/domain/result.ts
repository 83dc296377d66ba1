/**
 * Results as values, and the one way to report a bug.
 * Wrong input and refusals come back as values; only a broken assumption of our own throws.
 */
export type Result<T, E> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: E };

export const ok = <T>(value: T): { readonly ok: true; readonly value: T } => ({ ok: true, value });
export const fail = <E>(error: E): { readonly ok: false; readonly error: E } => ({ ok: false, error });

/** Throws when something that the code takes for granted is not so: a bug, never wrong input. */
export function invariant(condition: unknown, sentence: string): asserts condition {
  if (!condition) throw new Error(`Invariant broken: ${sentence}`);
}

/** The value, which must be there: for look-ups that cannot miss. */
export function present<T>(value: T | null | undefined, what: string): T {
  invariant(value !== undefined && value !== null, `${what} is missing`);
  return value;
}
