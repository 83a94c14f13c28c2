import { setTimeout as sleep } from "node:timers/promises";

/** How long a piece of work waits for other writers before it gives up. */
const PATIENCE_MS = 10_000;

/**
 * Does the work again while another connection holds the lock. SQLite's own waiting would stop this whole process, and
 * for ever if the lock is held by another opening in it; this waits without stopping anything.
 *
 * The work must be a transaction that can be begun anew.
 */
export async function patiently<T>(work: () => Promise<T>): Promise<T> {
  const end = performance.now() + PATIENCE_MS;
  for (let pause = 1; ; pause = Math.min(2 * pause, 30)) {
    try {
      return await work();
    } catch (error) {
      const { code } = (error ?? {}) as NodeJS.ErrnoException;
      if (!String(code).startsWith("SQLITE_BUSY") || performance.now() > end) throw error;
      // Two that wait must not wake in step for ever.
      await sleep(pause * (0.5 + Math.random()));
    }
  }
}
