import { useEffect, useRef } from "react";
import { type KeyLine, registerKeys } from "./key-registry.ts";

/**
 * Puts the keys of a part of the page on the list for as long as it is shown. What they do may change with each rendering;
 * which keys they are is taken from `lines` anew only when a key or its words change.
 */
export function useKeys(title: string, lines: readonly KeyLine[], everywhere = false): void {
  const latest = useRef(lines);
  useEffect(() => {
    latest.current = lines;
  });
  const described = JSON.stringify(lines.map(({ press, does, inFields, run }) => [press, does, inFields, !!run]));
  // biome-ignore lint/correctness/useExhaustiveDependencies: `described` stands for what of the lines is on the list
  useEffect(
    () =>
      registerKeys({
        title,
        ...(everywhere && { everywhere }),
        lines: lines.map((line, k) => ({ ...line, ...(line.run && { run: () => latest.current[k]?.run?.() }) })),
      }),
    [title, described, everywhere],
  );
}
