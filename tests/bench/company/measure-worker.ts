/** The process that takes one measure of the company planner: a name in, what was measured out. */
import { toUncounted, type MeasureMessage, type Measured } from "./measure.js";
import { MEASURES } from "./measures.js";

async function answer({ name }: MeasureMessage): Promise<Measured> {
  try {
    return (await MEASURES.get(name)?.take()) ?? toUncounted(`there is no measure "${name}"`);
  } catch (error) {
    return toUncounted(error instanceof Error ? (error.stack ?? error.message) : String(error));
  }
}

// The bench is the only one who sends.
process.on("message", (message) => {
  void answer(message as MeasureMessage).then((measured) => process.send?.(measured));
});
