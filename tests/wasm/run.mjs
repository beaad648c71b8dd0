// Runs a program that was built for wasm32-wasip1: `node run.mjs PROGRAM < PICTURE`.
import { readFile } from "node:fs/promises";
import { argv } from "node:process";
import { WASI } from "node:wasi";

const system = new WASI({ version: "preview1" });
const program = await WebAssembly.compile(await readFile(argv[2]));
system.start(await WebAssembly.instantiate(program, system.getImportObject()));
