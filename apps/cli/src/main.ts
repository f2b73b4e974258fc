import { run } from "./program.ts";
import { errorCode, reasonOf } from "./system-error.ts";
import { worldOf } from "./world.ts";

/** Whoever reads through a pipe may stop early (`alcedo evaluate fields | head`): that is no fault. */
for (const stream of [process.stdout, process.stderr])
  stream.on("error", (error) => {
    if (errorCode(error) === "EPIPE") return;
    process.exitCode = 3;
    if (stream === process.stdout) process.stderr.write(`alcedo: the output cannot be written: ${reasonOf(error)}.\n`);
  });

process.exitCode = await run(process.argv.slice(2), worldOf(process.stdout, process.stderr, process.env));
