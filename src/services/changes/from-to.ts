/** How the record tells what a value was and what it has become. */

/** "expected day from Fri 4 Dec to Tue 8 Dec, crew set to Alder": what differs; an empty text stands for no value. */
export function listFromTo(
  fields: readonly (readonly [name: string, before: string, after: string])[],
): string {
  return fields
    .filter(([, before, after]) => before !== after)
    .map(([name, before, after]) => {
      if (before === "") return `${name} set to ${after}`;
      if (after === "") return `${name} ${before} taken out`;
      return `${name} from ${before} to ${after}`;
    })
    .join(", ");
}
