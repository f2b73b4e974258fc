import { VERSION } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { run } from "./program.ts";
import { alcedo, widest } from "./testing/console.ts";
import { DEMONSTRATION } from "./testing/scratch.ts";
import { worldOf } from "./world.ts";

const COMMANDS = ["new", "check", "evaluate", "trace", "figure", "compare", "recheck", "export", "simulate"];

describe("the program's help", () => {
  test("lists the commands, the exit states, the meaning of brackets and the cautions", async () => {
    const { status, out, err } = await alcedo(["--help"]);
    expect([status, err]).toEqual([0, ""]);
    for (const word of [...COMMANDS, "0.6123(21)", "Exit status", "not a medical device", "medical physicist"])
      expect(out).toContain(word);
    expect(widest(out)).toBeLessThanOrEqual(80);
    expect(out).toMatch(/[^\n]\n$/);
  });

  test.each(COMMANDS)("of %s shows examples and its exit states", async (command) => {
    for (const words of [
      [command, "--help"],
      ["help", command],
    ]) {
      const { status, out, err } = await alcedo(words);
      expect([status, err]).toEqual([0, ""]);
      expect(out).toContain("Examples:\n");
      expect(out).toContain(`  alcedo ${command} `);
      expect(out).toMatch(/Exit status: 0 [^\n]+(\n[^\n]+)*\n$/);
      expect(widest(out)).toBeLessThanOrEqual(80);
    }
  });

  test("states the version of the results", async () => {
    expect(await alcedo(["--version"])).toEqual({ status: 0, out: `${VERSION}\n`, err: "" });
  });
});

describe("a call that cannot be understood", () => {
  test.each([
    [["evalute", "x"], "unknown command 'evalute'\n(Did you mean evaluate?)"],
    [["evaluate"], "missing required argument 'FOLDER'"],
    [["compare", "a"], "missing required argument 'B'"],
    [["evaluate", "a", "b"], "too many arguments"],
    [["evaluate", "a", "--jsno"], "unknown option '--jsno'\n(Did you mean --json?)"],
    [["trace", "a", "b", "--depth", "-1"], "Write a whole number from 0 upwards, of at most 15 digits."],
    [["trace", "a", "b", "--depth", "1.5"], "Write a whole number from 0 upwards, of at most 15 digits."],
    [["trace", "a", "b", "--depth"], "argument missing"],
    [["new", "a", "--channels", "Blue,green"], "such as blue."],
    [["new", "a", "--channels", "blue"], "At least two channels"],
    [["new", "a", "--channels", "blue,blue"], "Two channels have the same name."],
    [["new", "a", "--channels", ","], "is no name of a channel"],
    [["recheck"], "missing required argument 'FOLDER'"],
    [["simulate", "a", "--seed", "-1"], "Write a whole number from 0 upwards, of at most 15 digits."],
    [["simulate", "a", "--regime", "toString"], "There are five-repeats, three-repeats,"],
    [["simulate", "a", "--mistake", "constructor"], "There is no such mistake; alcedo simulate --list names them."],
    [["simulate", "a", "--mistake", "outlier="], "Its size is a number with a decimal point: outlier=5"],
    [["simulate", "a", "--mistake", "outlier=0x10"], "Its size is a number with a decimal point"],
    [["simulate", "a", "--mistake", "outlier=5 %"], "Its size is a number with a decimal point"],
    [["simulate", "a", "--mistake", "channels-swapped=1"], "The mistake channels-swapped has no size."],
  ])("%j ends with status 2, says why, and prints nothing on standard output", async (words, message) => {
    const { status, out, err } = await alcedo(words);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(/^alcedo: /);
    expect(err).toContain(message);
    expect(err).toContain("alcedo --help lists the commands");
    expect(err).not.toMatch(/\n\s+at /);
  });

  test("is answered with the help where no command is given", async () => {
    const { status, out, err } = await alcedo([]);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toContain("Usage: alcedo");
  });
});

describe("a fault of the program", () => {
  test("ends with status 3 and one line that says what to report", async () => {
    const texts: string[] = [];
    const broken = {
      write() {
        throw new RangeError("trial\nof a fault");
      },
    };
    const status = await run(["evaluate", DEMONSTRATION], worldOf(broken, { write: (text) => texts.push(text) }, {}));
    expect(status).toBe(3);
    expect(texts.join("")).toMatch(
      /^alcedo: a fault of the program, not of your data\. Please report: alcedo \d+\.\d+\.\d+, evaluate, "trial", at [^\n]+\.\n$/,
    );
  });
});
