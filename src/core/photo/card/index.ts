/** The scale card: its design in mm, and its spots found in a grey picture. */
export { type GreyPicture, shrunk } from "./components.ts";
export { CARD, FRAME, SPOTS, type Spot } from "./design.ts";
export { type FoundCard, findCard } from "./find-card.ts";
