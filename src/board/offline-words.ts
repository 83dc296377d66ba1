/**
 * What a crew's page says about working without signal, in English and Spanish: of pages kept on the phone and of what
 * has been said and not been sent yet. Scripts get them as they stand here, so that each is a plain sentence; `{n}` and
 * the like are filled in there.
 */
import type { Language } from "./spoken-time.js";

export interface OfflineWords {
  /** Before the time at which the shown copy of the page was taken. */
  readonly keptCopy: string;
  /** In the place of a page of which there is no copy: its heading, and before what there is. */
  readonly noSignal: string;
  readonly notKept: string;
  /** The part of the page that tells of all this. */
  readonly label: string;
  readonly script: ScriptWords;
}

export interface ScriptWords {
  readonly notWithOffice: string;
  readonly allTaken: string;
  readonly hint: string;
  readonly waiting: string;
  readonly closed: string;
  /** Where the office gave no sentence. */
  readonly refused: string;
  readonly taken: string;
  readonly takeBack: string;
  readonly again: string;
  /** Beside the form that was sent. */
  readonly kept: string;
  readonly photos: string;
  readonly photoOf: string;
  readonly photoTooBig: string;
}

const en: OfflineWords = {
  keptCopy: "No signal. You see the copy that this phone kept:",
  noSignal: "No signal",
  notKept: "This phone has no copy of this page. It has:",
  label: "On this phone",
  script: {
    notWithOffice: "Not with the office yet: {n}",
    allTaken: "The office has it all",
    hint: "Kept on this phone, also when it is switched off, and sent as soon as there is signal.",
    waiting: "Waiting to be sent.",
    closed:
      "Your link opens nothing any more. This stays on the phone: open a new link from the office here, and it is sent.",
    refused: "The office could not take this.",
    taken: "The office has it.",
    takeBack: "Take it back",
    again: "Send it again",
    kept: "Kept on this phone at {time}. It is sent by itself.",
    photos: "Photos of it",
    photoOf: "Photo: {about}",
    photoTooBig:
      "The photo {name} is more than 10 MB, and this phone cannot make it smaller. Choose another photo, and send again.",
  },
};

const es: OfflineWords = {
  keptCopy: "Sin señal. Ve la copia que guardó este teléfono:",
  noSignal: "Sin señal",
  notKept: "Este teléfono no guardó copia de esta página. Tiene:",
  label: "En este teléfono",
  script: {
    notWithOffice: "Aún no llega a la oficina: {n}",
    allTaken: "La oficina ya tiene todo",
    hint: "Guardado en este teléfono, aunque se apague; se manda en cuanto haya señal.",
    waiting: "Por mandar.",
    closed:
      "Su enlace ya no abre nada. Esto queda en el teléfono: abra aquí un enlace nuevo de la oficina y se manda.",
    refused: "La oficina no pudo recibir esto.",
    taken: "La oficina ya lo tiene.",
    takeBack: "Retirarlo",
    again: "Mandarlo otra vez",
    kept: "Guardado en este teléfono a las {time}. Se manda solo.",
    photos: "Fotos de esto",
    photoOf: "Foto: {about}",
    photoTooBig:
      "La foto {name} pasa de 10 MB y este teléfono no puede reducirla. Elija otra foto y mande otra vez.",
  },
};

export const OFFLINE_WORDS: Readonly<Record<Language, OfflineWords>> = { en, es };
