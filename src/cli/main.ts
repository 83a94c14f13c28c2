#!/usr/bin/env node
/** The command `unseam`: the process around `run.ts`. */
import { main } from "./run.ts";

process.exitCode = await main(process.argv.slice(2), process.cwd());
