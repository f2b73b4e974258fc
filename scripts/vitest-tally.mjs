/**
 * A vitest reporter that writes what `scripts/test.mjs` counts: tests passed and failed, those skipped with the reason
 * given or without one, and whatever went wrong outside a test. (The built-in JSON reporter leaves out the reasons and errors outside.)
 */
import { writeFileSync } from "node:fs";

export default class VitestTally {
  /**
   * @param {ReadonlyArray<import("vitest/node").TestModule>} modules
   * @param {ReadonlyArray<unknown>} unhandledErrors
   */
  onTestRunEnd(modules, unhandledErrors) {
    const path = process.env["ALCEDO_TALLY"];
    if (path === undefined) throw new Error("ALCEDO_TALLY must name the file to write the tally to");
    const tally = {
      passed: 0,
      failed: 0,
      outside: unhandledErrors.length,
      skipped: /** @type {string[]} */ ([]),
      unexplained: /** @type {string[]} */ ([]),
    };
    for (const module of modules) {
      // Errors of a file or a suite: a failing import, a failing `beforeAll`.
      tally.outside += module.errors().length;
      for (const suite of module.children.allSuites()) tally.outside += suite.errors().length;
      for (const test of module.children.allTests()) {
        const result = test.result();
        const name = `${module.relativeModuleId}: ${test.fullName}`;
        if (result.state === "passed") tally.passed++;
        else if (result.state !== "skipped") tally.failed++;
        else if (result.note === undefined) tally.unexplained.push(name);
        else tally.skipped.push(`${name}: ${result.note}`);
      }
    }
    writeFileSync(path, JSON.stringify(tally));
  }
}
