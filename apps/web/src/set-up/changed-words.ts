/** What differs between two descriptors, for the history. */
export function changedWords(before: unknown, after: unknown): string {
  const found: string[] = [];
  const walk = (a: unknown, b: unknown, path: string) => {
    if (Object.is(a, b)) return;
    const [isA, isB] = [isRecord(a), isRecord(b)];
    if ((isA || isB) && (isA || a === undefined) && (isB || b === undefined)) {
      const [x, y] = [isA ? a : {}, isB ? b : {}] as [Record<string, unknown>, Record<string, unknown>];
      for (const key of new Set([...Object.keys(x), ...Object.keys(y)]))
        walk(x[key], y[key], path === "" ? key : `${path}.${key}`);
    } else if (JSON.stringify(a) !== JSON.stringify(b))
      found.push(`${path.replace(/^alcedo\./, "")}: ${text(a)} → ${text(b)}`);
  };
  walk(before, after, "");
  return `set-up: ${found.join("; ")}`.slice(0, 480);
}

const text = (value: unknown) =>
  value === undefined ? "not stated" : typeof value === "string" ? value : JSON.stringify(value);

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
