/** The pages of a record, in the order of the bench. A page is one entry here: id, label, component. */
import type { ComponentType } from "react";
import { AfternoonPage } from "./afternoon/afternoon.tsx";
import { FiguresPage } from "./figures/figures-page.tsx";
import { LawPage } from "./law/law-page.tsx";
import { LogPage } from "./log/log-page.tsx";
import { PaperPage } from "./paper/paper.tsx";
import { MeasuringPage } from "./photographs/measuring.tsx";
import { ShelfPage } from "./shelf/shelf.tsx";
import { StructurePage } from "./structure.tsx";
import { SwapsPage } from "./swaps/swaps.tsx";
import { WarmthPage } from "./warmth/warmth.tsx";
import { WaysInPage } from "./ways-in.tsx";

export interface Page {
  /** Last segment of the address. */
  readonly id: string;
  readonly label: string;
  readonly component: ComponentType;
}

export const PAGES: readonly Page[] = [
  { id: "log", label: "Log", component: LogPage },
  { id: "structure", label: "Structure", component: StructurePage },
  { id: "afternoon", label: "Afternoon", component: AfternoonPage },
  { id: "ways-in", label: "Ways in", component: WaysInPage },
  { id: "warmth", label: "Warmth", component: WarmthPage },
  { id: "measuring", label: "Measuring", component: MeasuringPage },
  { id: "figures", label: "Figures", component: FiguresPage },
  { id: "law", label: "Law", component: LawPage },
  { id: "swaps", label: "Swaps", component: SwapsPage },
  { id: "shelf", label: "Shelf", component: ShelfPage },
  { id: "paper", label: "Paper", component: PaperPage },
];
