/** The keeper of a record as React state. */
import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useState,
  useSyncExternalStore,
} from "react";
import type { Fault } from "../../core/errors.ts";
import type { Edit } from "../../core/record/edits.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { KeptRecord } from "../../server/api.ts";
import { ask, Failed } from "../data/client.ts";
import { forget } from "../data/use-answer.ts";
import { browserPort, onOtherTab } from "./browser-port.ts";
import { Keeper, type KeepState, type Kept } from "./keeper.ts";
import { keptWords } from "./kept-words.ts";
import type { WaitingPicture } from "./outbox.ts";
import { isWaiting } from "./steps.ts";

export interface UseKeep {
  /** Takes edits as one thing done, named for being taken back. The answer: why not; empty when they were taken. */
  readonly edit: (
    edits: readonly Edit[],
    label: string,
    pictures?: readonly WaitingPicture[],
  ) => Promise<readonly Fault[]>;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** What would be taken back, and what done once more. */
  readonly undoLabel: string | null;
  readonly redoLabel: string | null;
  readonly state: KeepState;
  /** The state of keeping in words. */
  readonly words: string;
  readonly kept: Kept;
  readonly keeper: Keeper;
}

export type KeeperHere =
  | { readonly kind: "waiting" }
  | { readonly kind: "here"; readonly keeper: Keeper }
  | { readonly kind: "failed"; readonly faults: readonly Fault[] };

const port = browserPort();
const keepers = new Map<string, Promise<Keeper>>();

const fetchRecord = (id: string): Promise<KeptRecord> => ask<KeptRecord>(`/api/records/${encodeURIComponent(id)}`);

async function keeperOf(id: string): Promise<Keeper> {
  const { outbox } = await port;
  const [server, base, steps, pictures] = await Promise.all([
    fetchRecord(id).catch((error: unknown) => {
      if (error instanceof Failed) return error;
      throw error;
    }),
    outbox.base(id),
    outbox.steps(id),
    outbox.pictures(id),
  ]);
  const waiting = steps.some(isWaiting);
  if (!(server instanceof Failed)) {
    // What waits was made on the base that lies beside it; the server's newer one is laid underneath on sending.
    const keeper = new Keeper(await port, waiting && base !== undefined ? base : server, steps, pictures);
    if (!waiting) await outbox.put([], server);
    return keeper;
  }
  if (base === undefined || (server.status !== 0 && server.status < 500)) throw server;
  return new Keeper(await port, base, steps, pictures);
}

/** The keeper of a record: made once a page, from the server or, without one, from what this browser has kept. */
export function useKeeper(id: string): KeeperHere & { readonly again: () => void } {
  const [state, setState] = useState<KeeperHere>({ kind: "waiting" });
  const [round, setRound] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new round asks the same once more
  useEffect(() => {
    let here = true;
    const made = keepers.get(id) ?? keeperOf(id);
    keepers.set(id, made);
    made.then(
      (keeper) => {
        if (here) setState({ kind: "here", keeper });
      },
      (error: unknown) => {
        keepers.delete(id);
        if (here)
          setState({
            kind: "failed",
            faults:
              error instanceof Failed ? error.faults : [{ path: "", found: String(error), expected: "the record" }],
          });
      },
    );
    return () => {
      here = false;
    };
  }, [id, round]);
  return {
    ...state,
    again: () => {
      setState({ kind: "waiting" });
      setRound((n) => n + 1);
    },
  };
}

const Context = createContext<UseKeep | null>(null);
const Doing = createContext<Keeper | null>(null);

export function useKeep(): UseKeep {
  const keep = useContext(Context);
  if (keep === null) throw new Error("useKeep was called outside of a record");
  return keep;
}

/**
 * For what takes edits and shows the record that the bench shows: not drawn anew whenever the state of keeping changes.
 * `now` is the record with everything done so far at the moment it is read.
 */
export function useEdit(): Pick<UseKeep, "edit"> & { readonly now: { readonly current: TeardownRecord } } {
  const keeper = useContext(Doing);
  if (keeper === null) throw new Error("useEdit was called outside of a record");
  return useMemo(
    () => ({
      edit: keeper.edit,
      now: {
        get current() {
          return keeper.kept().shown.record;
        },
      },
    }),
    [keeper],
  );
}

/** Milliseconds: words that change more often are not read. */
const BLINK = 100;

/** Told at once after a pause, else once a blink: while somebody types the state changes all the time. */
function calmly(keeper: Keeper): Calm {
  let now: (() => void) | null = null;
  const listen = (listener: () => void) => {
    let told = Number.NEGATIVE_INFINITY;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const tell = () => {
      clearTimeout(timer);
      timer = undefined;
      told = performance.now();
      listener();
    };
    now = tell;
    let wasKept = false;
    const deaf = keeper.listen(() => {
      const kept = keeper.kept().state === "kept";
      const wait = told + BLINK - performance.now();
      // Nobody may read "all kept" for a moment longer than it is true.
      if (wait <= 0 || (wasKept && !kept)) tell();
      else timer ??= setTimeout(tell, wait);
      wasKept = kept;
    });
    return () => {
      now = null;
      clearTimeout(timer);
      deaf();
    };
  };
  return { listen, flush: () => now?.() };
}

interface Calm {
  readonly listen: (listener: () => void) => () => void;
  /** Tells now what would be told in a moment. */
  readonly flush: () => void;
}

export function KeepProvider({ keeper, children }: { readonly keeper: Keeper; readonly children: ReactNode }) {
  const calm = useMemo(() => calmly(keeper), [keeper]);
  const kept = useSyncExternalStore(calm.listen, keeper.kept);
  // Who waits for an edit sees it when it has been taken: the next thing done is laid on what is shown.
  const edit = useCallback<UseKeep["edit"]>(
    async (...done) => {
      const faults = await keeper.edit(...done);
      calm.flush();
      return faults;
    },
    [keeper, calm],
  );
  const { id } = kept.shown.record;

  useEffect(() => {
    const look = () => {
      void keeper.send();
      if (document.visibilityState === "hidden") return;
      // Another person's saves are shown when somebody comes back to this page.
      fetchRecord(id).then(
        (newest) => keeper.newest(newest),
        () => undefined,
      );
    };
    void keeper.send();
    addEventListener("online", look);
    document.addEventListener("visibilitychange", look);
    const deaf = onOtherTab((record) => {
      if (record === id) void keeper.refresh();
    });
    return () => {
      removeEventListener("online", look);
      document.removeEventListener("visibilitychange", look);
      deaf();
    };
  }, [keeper, id]);

  // Answers of the server about the record are older than what was just kept.
  const { revision } = kept.shown;
  useEffect(() => {
    if (revision > 0) forget("/api/records");
  }, [revision]);

  // Where nothing lasts, closing the page would lose what waits.
  const atRisk = !kept.lasts && kept.waiting > 0;
  useEffect(() => {
    if (!atRisk) return;
    const ask = (event: BeforeUnloadEvent) => event.preventDefault();
    addEventListener("beforeunload", ask);
    return () => removeEventListener("beforeunload", ask);
  }, [atRisk]);

  const value = useMemo<UseKeep>(
    () => ({
      edit,
      undo: () => void keeper.undo(),
      redo: () => void keeper.redo(),
      canUndo: kept.undo.length > 0,
      canRedo: kept.redo.length > 0,
      undoLabel: kept.undo.at(-1)?.label ?? null,
      redoLabel: kept.redo.at(-1)?.label ?? null,
      state: kept.state,
      words: keptWords(kept),
      kept,
      keeper,
    }),
    [keeper, kept, edit],
  );
  return (
    <Doing value={keeper}>
      <Context value={value}>{children}</Context>
    </Doing>
  );
}
