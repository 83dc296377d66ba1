/** The lines of a file that is too large to be in memory as a whole: one at a time, as UTF-8. */

/** What is wrong with a text as such, as a sentence. */
export class UnreadableText extends Error {}

/** No line of ours comes near; one that is longer is no text of lines. In characters. */
const LONGEST_LINE = 128 * 1024 * 1024;

/** Each line without its end; of a file that ends with a line feed there is no empty line behind it. Throws UnreadableText. */
export async function* readLines(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<string, void> {
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let begun: string[] = [];
  let length = 0;
  let number = 1;
  const decode = (chunk?: Uint8Array): string => {
    try {
      return chunk === undefined ? decoder.decode() : decoder.decode(chunk, { stream: true });
    } catch {
      throw new UnreadableText(`Line ${number} or the next one is no text in UTF-8.`);
    }
  };
  for await (const chunk of chunks) {
    let text = decode(chunk);
    for (let end = text.indexOf("\n"); end >= 0; end = text.indexOf("\n")) {
      begun.push(text.slice(0, end));
      yield begun.join("");
      begun = [];
      length = 0;
      number += 1;
      text = text.slice(end + 1);
    }
    begun.push(text);
    length += text.length;
    if (length > LONGEST_LINE) throw new UnreadableText(`Line ${number} is too long for a row of a backup.`);
  }
  const last = begun.join("") + decode();
  if (last !== "") yield last;
}
