/** The frame: which record, which page, the drawing at the left, the line at the bottom. */
import { type ReactNode, useDeferredValue } from "react";
import type { RecordHead } from "../server/api.ts";
import { BenchProvider, useBench } from "./bench/bench.tsx";
import { useAnswer } from "./data/use-answer.ts";
import { useCalm } from "./data/use-calm.ts";
import { Fault } from "./face/fault.tsx";
import { Waiting } from "./face/page-head.tsx";
import { DrawingPanel } from "./frame/drawing-panel.tsx";
import { Guard } from "./frame/guard.tsx";
import { Heading } from "./frame/heading.tsx";
import { RecordChooser } from "./frame/record-chooser.tsx";
import { KeepProvider, ToSettle, useKeep, useKeeper } from "./keep/index.ts";
import { TheLine } from "./line/line.tsx";
import { Link } from "./link.tsx";
import { PartsOfTheFace } from "./pages/parts-of-the-face.tsx";
import { PAGES, type Page } from "./pages/registry.ts";
import { addressOf, type Place, usePlace } from "./router.ts";

export function App() {
  const place = usePlace();
  const [room, id] = place.segments;
  if (room === "parts-of-the-face") return <PartsOfTheFace />;
  if (room === "records" && id !== undefined) return <OneRecord key={id} id={id} place={place} />;
  if (room === undefined || room === "records") return <RecordChooser />;
  return (
    <main className="pad">
      <Fault
        title="There is no such page"
        faults={[{ path: "address", found: `/${place.segments.join("/")}`, expected: "/records and what it links to" }]}
      />
      <Link href="/">to the records</Link>
    </main>
  );
}

function OneRecord({ id, place }: { readonly id: string; readonly place: Place }) {
  const answer = useKeeper(id);
  const heads = useAnswer<readonly RecordHead[]>("/api/records");
  if (answer.kind === "waiting")
    return (
      <main className="pad">
        <Waiting>Fetching the record.</Waiting>
      </main>
    );
  if (answer.kind === "failed")
    return (
      <main className="pad">
        <Fault title="The record could not be fetched" faults={answer.faults} again={answer.again} />
        <Link href="/">to the records</Link>
      </main>
    );
  const page = PAGES.find((one) => one.id === (place.segments[2] ?? "structure")) ?? PAGES[0]!;
  return (
    <KeepProvider keeper={answer.keeper}>
      <OnTheBench>
        <Frame page={page} place={place} heads={heads.kind === "here" ? heads.value : []} />
      </OnTheBench>
    </KeepProvider>
  );
}

/** Milliseconds from one drawing of the page to the next while somebody types. */
const DRAWN_EVERY = 250;

/** Pages see the record with everything done so far, kept by the server already or not. */
function OnTheBench({ children }: { readonly children: ReactNode }) {
  // Typing goes before drawing: what is drawn may be a moment behind what is typed, and a drawing that is begun is ended.
  const shown = useDeferredValue(useCalm(useKeep().kept.shown, DRAWN_EVERY));
  return <BenchProvider kept={shown}>{children}</BenchProvider>;
}

function Frame(props: { readonly page: Page; readonly place: Place; readonly heads: readonly RecordHead[] }) {
  const { page, place, heads } = props;
  const { record } = useBench();
  const Body = page.component;
  const title = `${page.label} · ${record.device.name} · Unseam`;
  return (
    <div className="frame">
      <title>{title}</title>
      <a className="skip" href="#page">
        to the page
      </a>
      <aside className="left" aria-label="The drawing">
        <Heading heads={heads} />
        <Guard key={record.id}>
          <DrawingPanel />
        </Guard>
      </aside>
      <div className="right">
        <nav className="nav" aria-label="Pages">
          {PAGES.map((one) => (
            <Link
              key={one.id}
              href={addressOf(["records", record.id, one.id], keepPart(place.search))}
              aria-current={one.id === page.id ? "page" : undefined}
            >
              {one.label}
            </Link>
          ))}
        </nav>
        <main id="page" className="page" tabIndex={-1}>
          <ToSettle />
          <Guard key={page.id}>
            <Body />
          </Guard>
        </main>
        <TheLine />
      </div>
    </div>
  );
}

/** The choice of a part and a side goes along from page to page; the settings of a page stay with it. */
function keepPart(search: URLSearchParams): URLSearchParams {
  const kept = new URLSearchParams();
  for (const name of ["part", "from"]) {
    const value = search.get(name);
    if (value !== null) kept.set(name, value);
  }
  return kept;
}
