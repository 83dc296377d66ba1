/** Whether two JSON values say the same. */

/** Equal as JSON, whatever the order of the fields. */
export function isSameJson(left: unknown, right: unknown): boolean {
  if (left === right) return true;
  if (typeof left !== "object" || typeof right !== "object" || left === null || right === null) return false;
  if (Array.isArray(left) !== Array.isArray(right)) return false;
  const mine = Object.entries(left);
  const others = new Map<string, unknown>(Object.entries(right));
  return (
    mine.length === others.size &&
    mine.every(([key, value]) => others.has(key) && isSameJson(value, others.get(key)))
  );
}
