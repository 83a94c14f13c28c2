/**
 * Unseam as a library: one teardown of a phone or tablet turned into ways in, heat plans, figures that stand up, the legal
 * class and the sheets that a shop works from.
 *
 * The steps of use:
 *
 *   1. `requireRecord(value)`            any value -> a valid record, or every fault in it
 *   2. `findWayIn(record, question, …)`  the cheapest order of work to a part, with proof
 *   3. `core/law`, `core/measure`, `core/heat`, `core/service`   what else a record answers
 *   4. `figures`, `draw`, `paper`        the answers as pictures and sheets
 *
 * Naming: a *record* is one teardown; a *way in* an order of work to a part and a *way back* putting it together again;
 * *away* means off or shifted; the *warm window* is the time in which a bond is soft and the battery still safe; *closure*
 * is parts against the whole; an *open question* a guess in the structure that nobody has tried. Lengths are in mm, masses in
 * g, temperatures in degC, times in s (ms inside the planner), money is exact with its currency.
 */
export { type Fault, InputError, InputFaults } from "./core/errors.ts";
export { checkRecord, requireRecord, type TeardownRecord } from "./core/record/index.ts";
export { findWayIn, type Question, type Unreachable, type WayIn } from "./core/route/ways/index.ts";
export { examineRecord, openQuestions } from "./core/structure/index.ts";
