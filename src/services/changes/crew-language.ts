/** The language in which a crew reads its sheets, its calendar and its refusals. */
import type { PartKey } from "../../domain/company-parts.js";
import type { Crew } from "../../domain/company-schema.js";
import { ok } from "../../domain/result.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import { refuse } from "./change-refusals.js";
import { editEntry, editFields } from "./source-edit.js";

export interface CrewLanguageChanged extends ChangeBase {
  readonly kind: "crew-language";
  readonly crew: string;
  readonly language: Crew["language"];
}

const NAMES = { en: "English", es: "Spanish" } as const satisfies Record<Crew["language"], string>;

export const crewLanguageRule: ChangeRule<CrewLanguageChanged> = {
  target: ({ crew }): PartKey => `crew/${crew}`,
  apply: ({ source, company }, { crew: id, language }) => {
    const crew = company.crews.find((candidate) => candidate.id === id);
    if (crew === undefined) return refuse("no-such-crew", `There is no crew "${id}" any more.`);
    if (crew.language === language) {
      return refuse("language-as-is", `${crew.name} reads ${NAMES[language]} already.`);
    }
    return ok(editEntry(source, "crews", id, (body) => editFields(body, { language })));
  },
  say: (company, { crew: id, language }) => {
    const crew = company.crews.find((candidate) => candidate.id === id);
    const before = crew === undefined ? "" : ` instead of ${NAMES[crew.language]}`;
    return `${crew?.name ?? id} reads ${NAMES[language]}${before}.`;
  },
};
