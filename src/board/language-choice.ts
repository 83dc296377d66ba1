/** The two languages of a crew's page: the one that it is in, the one that it can be changed to, and how a link asks for each. */
import { OTHER_LANGUAGE, type Language } from "./spoken-time.js";

export interface LanguageChoice {
  readonly language: Language;
  readonly otherLanguage: Language;
  /** What an address must ask for: nothing for the crew's own language. */
  readonly asks: {
    readonly thisLanguage: Language | undefined;
    readonly otherLanguage: Language | undefined;
  };
}

/** For a page in `language` of a crew whose own language is `own`. */
export function toLanguageChoice(language: Language, own: Language): LanguageChoice {
  const otherLanguage = OTHER_LANGUAGE[language];
  const asks = (asked: Language): Language | undefined => (asked === own ? undefined : asked);
  return {
    language,
    otherLanguage,
    asks: { thisLanguage: asks(language), otherLanguage: asks(otherLanguage) },
  };
}
