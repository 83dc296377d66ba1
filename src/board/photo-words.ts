/** What crews read about photos, in English and Spanish; a key that lacks a language does not compile. */
import type { Language } from "./spoken-time.js";

/** What a file may be that is no photo we take. */
export type FileKind =
  "heic" | "avif" | "gif" | "tiff" | "bmp" | "svg" | "pdf" | "html" | "zip" | "film" | "text" | "unknown";

export interface PhotoWords {
  readonly photos: string;
  readonly send: string;
  readonly choose: string;
  readonly about: string;
  readonly wholeHouse: (house: string) => string;
  readonly button: string;
  readonly notTaken: string;
  readonly reports: string;
  readonly back: string;
  readonly sent: string;
  readonly nothingToShow: string;
  /** In the place of the pictures, on a copy that the phone has kept. */
  readonly picturesAway: string;
  readonly taken: string;
  readonly takenBefore: string;
  /** What is read aloud in the place of a picture. */
  readonly alt: (what: string, crew: string, when: string) => string;
  /** Of what a photo is that is of no task. */
  readonly ofHouse: string;

  readonly noFile: string;
  readonly noKey: string;
  readonly noHouse: string;
  readonly noTask: string;
  readonly noReport: string;
  readonly noTime: string;
  readonly tooBig: (megabytes: number) => string;
  readonly severalFiles: string;
  readonly unreadable: string;
  readonly busy: string;
  readonly otherKind: Readonly<Record<FileKind, string>>;
  readonly moving: string;
  readonly broken: (kind: string) => string;
  readonly tooManyPixels: (megapixels: number, most: number) => string;
}

const en: PhotoWords = {
  photos: "Photos",
  send: "Send a photo",
  choose: "Photo (JPEG, PNG or WebP)",
  about: "What it shows",
  wholeHouse: (house) => `${house}: the house`,
  button: "Send the photo",
  notTaken: "The photo was not taken",
  reports: "To the reports",
  back: "Back to the day sheet",
  sent: "What your crew has sent",
  nothingToShow: "Your crew has no work that day, and nothing under way.",
  picturesAway: "The pictures show where there is signal.",
  taken: "The photo is with the office.",
  takenBefore: "The photo was with the office already.",
  alt: (what, crew, when) => `Photo of ${what} by ${crew}, ${when}`,
  ofHouse: "the house",

  noFile: "Choose a photo.",
  noKey: "The form has come without its number. Open the page again and choose the photo once more.",
  noHouse: "Say at which house the photo was taken.",
  noTask: "Say of which task the photo is, or of none.",
  noReport:
    "The photo names no report that there can be. Open the page again and choose the photo once more.",
  noTime: "The time of the photo is no time. Open the page again and choose the photo once more.",
  tooBig: (megabytes) =>
    `The photo is larger than ${megabytes} MB, which is the most that is taken. Take it with less detail, or send a smaller copy.`,
  severalFiles: "These are several files. Send one photo at a time.",
  unreadable: "The photo did not come through whole. Send it again.",
  busy: "Many photos are coming in at this moment. Send it again in a minute.",
  otherKind: {
    heic: "This is a HEIC photo, which cannot be read here. Set the camera to “Most compatible” (JPEG), or send a screenshot of it.",
    avif: "This is an AVIF picture, which cannot be read here. Send the photo as JPEG, PNG or WebP.",
    gif: "This is a GIF and no photo. Send the photo as JPEG, PNG or WebP.",
    tiff: "This is a TIFF picture, which cannot be read here. Send the photo as JPEG, PNG or WebP.",
    bmp: "This is a bitmap (BMP), which cannot be read here. Send the photo as JPEG, PNG or WebP.",
    svg: "This is a drawing (SVG) and no photo. Send a photo as JPEG, PNG or WebP.",
    pdf: "This is a PDF and no photo. Send a photo as JPEG, PNG or WebP.",
    html: "This is a web page (HTML) and no photo. Send a photo as JPEG, PNG or WebP.",
    zip: "This is a packed file (ZIP) and no photo. Send a photo as JPEG, PNG or WebP.",
    film: "This is a film or a sound and no photo. Send a photo as JPEG, PNG or WebP.",
    text: "This is a text and no photo. Send a photo as JPEG, PNG or WebP.",
    unknown: "This file is no photo that can be read here. Send a photo as JPEG, PNG or WebP.",
  },
  moving: "This picture moves. Send a photo that stands still.",
  broken: (kind) => `This ${kind} file is damaged or cut off. Take the photo again, or choose another one.`,
  tooManyPixels: (megapixels, most) =>
    `This picture has ${megapixels} million pixels, and the most that is taken is ${most} million. Send a smaller copy.`,
};

const es: PhotoWords = {
  photos: "Fotos",
  send: "Mandar una foto",
  choose: "Foto (JPEG, PNG o WebP)",
  about: "Lo que muestra",
  wholeHouse: (house) => `${house}: la casa`,
  button: "Mandar la foto",
  notTaken: "La foto no se recibió",
  reports: "A los avisos",
  back: "Volver a la hoja del día",
  sent: "Lo que mandó su cuadrilla",
  nothingToShow: "Su cuadrilla no tiene trabajo ese día ni nada empezado.",
  picturesAway: "Las fotos se ven donde hay señal.",
  taken: "La foto ya está en la oficina.",
  takenBefore: "La foto ya estaba en la oficina.",
  alt: (what, crew, when) => `Foto de ${what}, de ${crew}, ${when}`,
  ofHouse: "la casa",

  noFile: "Elija una foto.",
  noKey: "El formulario llegó sin su número. Abra la página otra vez y elija la foto de nuevo.",
  noHouse: "Diga en qué casa se tomó la foto.",
  noTask: "Diga de qué trabajo es la foto, o de ninguno.",
  noReport: "La foto nombra un aviso que no puede existir. Abra la página otra vez y elija la foto de nuevo.",
  noTime: "La hora de la foto no es una hora. Abra la página otra vez y elija la foto de nuevo.",
  tooBig: (megabytes) =>
    `La foto pasa de ${megabytes} MB, que es lo más que se recibe. Tómela con menos detalle o mande una copia más chica.`,
  severalFiles: "Son varios archivos. Mande una foto a la vez.",
  unreadable: "La foto no llegó completa. Mándela otra vez.",
  busy: "En este momento llegan muchas fotos. Mándela otra vez en un minuto.",
  otherKind: {
    heic: "Es una foto HEIC y aquí no se puede leer. Ponga la cámara en “Más compatible” (JPEG) o mande una captura de pantalla.",
    avif: "Es una imagen AVIF y aquí no se puede leer. Mande la foto en JPEG, PNG o WebP.",
    gif: "Es un GIF y no una foto. Mande la foto en JPEG, PNG o WebP.",
    tiff: "Es una imagen TIFF y aquí no se puede leer. Mande la foto en JPEG, PNG o WebP.",
    bmp: "Es un mapa de bits (BMP) y aquí no se puede leer. Mande la foto en JPEG, PNG o WebP.",
    svg: "Es un dibujo (SVG) y no una foto. Mande una foto en JPEG, PNG o WebP.",
    pdf: "Es un PDF y no una foto. Mande una foto en JPEG, PNG o WebP.",
    html: "Es una página web (HTML) y no una foto. Mande una foto en JPEG, PNG o WebP.",
    zip: "Es un archivo comprimido (ZIP) y no una foto. Mande una foto en JPEG, PNG o WebP.",
    film: "Es un video o un audio y no una foto. Mande una foto en JPEG, PNG o WebP.",
    text: "Es un texto y no una foto. Mande una foto en JPEG, PNG o WebP.",
    unknown: "Este archivo no es una foto que se pueda leer aquí. Mande una foto en JPEG, PNG o WebP.",
  },
  moving: "Esta imagen se mueve. Mande una foto fija.",
  broken: (kind) => `Este archivo ${kind} está dañado o incompleto. Tome la foto otra vez o elija otra.`,
  tooManyPixels: (megapixels, most) =>
    `Esta imagen tiene ${megapixels} millones de píxeles y se reciben hasta ${most} millones. Mande una copia más chica.`,
};

export const PHOTO_WORDS = { en, es } as const satisfies Record<Language, PhotoWords>;
