/**
 * What crews and homeowners read comes from words that exist in every language: their templates hold no words of their own,
 * but in parts that are marked as English for the office.
 */
import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";

const VIEWS = new URL("../../views/", import.meta.url);
const TEMPLATES = [
  "pages/day-sheet.ejs",
  "pages/house.ejs",
  "pages/photo.ejs",
  "pages/print.ejs",
  "pages/report.ejs",
  "partials/fault-box.ejs",
  "partials/photo-form.ejs",
  "partials/photos.ejs",
  "partials/report-hidden.ejs",
  "partials/report-task.ejs",
  "partials/stamp.ejs",
] as const;

/** Words that stand in a template itself: between tags, in attributes that are read aloud, in texts inside its code. */
function listOwnWords(template: string): readonly string[] {
  // What is marked as English is for the office; nothing of the same name stands inside.
  const rest = template.replaceAll(/<(\w+)[^<>]*\slang="en"[^]*?<\/\1>/g, "");
  const code = [...rest.matchAll(/<%[^]*?%>/g)].map(([text]) => text);
  const markup = rest.replaceAll(/<%[^]*?%>/g, "");
  const between = markup.replaceAll(/<[^>]*>/g, "\n").split("\n");
  const aloud = [...markup.matchAll(/\s(?:aria-label|alt|title|placeholder|value)="([^"]*)"/g)].map(
    ([, text = ""]) => text,
  );
  // A text in code that has a space between letters is a phrase; a class or a route has none.
  const phrases = code.flatMap((text) =>
    [...text.matchAll(/"([^"]*\p{L} \p{L}[^"]*)"/gu)].map(([, phrase = ""]) => phrase),
  );
  return [...between, ...aloud, ...phrases].map((text) => text.trim()).filter((text) => /\p{L}/u.test(text));
}

describe("the templates of what crews and homeowners read", () => {
  it.each(TEMPLATES)("%s has no words of its own", async (name) => {
    expect(listOwnWords(await readFile(new URL(name, VIEWS), "utf8"))).toEqual([]);
  });

  it("would be caught with a word between tags, in a label, or in a phrase of their code", () => {
    expect(listOwnWords("<h2>Start</h2><p><%= words.light %></p>")).toEqual(["Start"]);
    expect(listOwnWords('<nav aria-label="Other days"></nav>')).toEqual(["Other days"]);
    expect(listOwnWords('<p><%= isDone ? "all done" : view.line %></p>')).toEqual(["all done"]);
    expect(listOwnWords('<p lang="en">This crew is out</p><p class="is-work"></p>')).toEqual([]);
  });
});
