#!/usr/bin/env node
/** What `pegline` begins with: the command line, as it was compiled when it was built. */
import { runBundled } from "./code-cache.ts";

runBundled(import.meta.dirname, "main.js");
