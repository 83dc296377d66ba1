/** The process that takes one measure of the company planner: a name in, its figures out. */
import { toUncounted, type MeasureMessage, type Measured } from "./measure.js";
import { MEASURES } from "./measures.js";

async function answer({ name }: MeasureMessage): Promise<readonly Measured[]> {
  const measure = MEASURES.get(name);
  if (measure === undefined) return [toUncounted(`there is no measure "${name}"`)];
  try {
    return await measure.take();
  } catch (error) {
    const why = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return measure.figures.map(() => toUncounted(why));
  }
}

// The bench is the only one who sends.
process.on("message", (message) => {
  void answer(message as MeasureMessage).then((measured) => process.send?.(measured));
});
