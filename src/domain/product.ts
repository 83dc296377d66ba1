/** The product's name, in one place (package.json holds the other copy, which npm demands). */
export const PRODUCT_NAME = "Daylap";
