import { expect, test } from "vitest";
import { pathFault } from "./resource-path.ts";

test.each(["background.csv", "data/background.csv", "..csv", "a..b/c", "Messung 3.csv", "größe.csv", "a/…/b.csv"])(
  "%s is a path inside the folder",
  (path) => {
    expect(pathFault(path)).toBeUndefined();
  },
);

test.each([
  ["../secret.csv", "leads out"],
  ["data/../../secret.csv", "leads out"],
  ["data/..", "leads out"],
  ["..", "leads out"],
  ["/etc/passwd", "absolute"],
  ["//server/share/x.csv", "absolute"],
  ["\\\\server\\share\\x.csv", "backslashes"],
  ["..\\secret.csv", "backslashes"],
  ["C:/secret.csv", "drive"],
  ["c:secret.csv", "drive"],
  ["https://example.org/x.csv", "URL"],
  ["file:///etc/passwd", "URL"],
  ["~/x.csv", "home"],
  ["./x.csv", "single points"],
  ["a//b.csv", "empty parts"],
  ["a/", "empty parts"],
  ["", "empty"],
  [" x.csv", "blanks"],
  ["x\u0000.csv", "characters"],
  ["x.csv:stream", "characters"],
  ["DataPackage.json", "descriptor itself"],
])("%j is refused: %s", (path, fault) => {
  expect(pathFault(path)).toContain(fault);
});
