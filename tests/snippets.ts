/**
 * Finds the code in documents. A snippet is a fenced block of a Markdown file, or of an `@example` in a doc comment; it
 * keeps the file and the line where it stands, to be named when it fails.
 */

/** A block of code in a document. */
export interface Snippet {
  readonly file: string;
  /** Of the first line of code, from 1. */
  readonly line: number;
  /** What stands behind the fence: `ts`, `sh`, ... */
  readonly language: string;
  readonly code: string;
}

/** The fenced blocks of a Markdown text. */
export function snippetsOfMarkdown(text: string, file: string): Snippet[] {
  return fencedBlocks(text.split("\n"), file, 1);
}

/**
 * The fenced blocks behind every `@example` of a source file's doc comments.
 *
 * @throws Error where an `@example` has no fenced block, for then nothing would be run.
 */
export function snippetsOfSource(text: string, file: string): Snippet[] {
  const snippets: Snippet[] = [];
  for (const comment of text.matchAll(/^[ \t]*\/\*\*[\s\S]*?\*\//gm)) {
    const first = text.slice(0, comment.index).split("\n").length;
    const lines = comment[0].split("\n").map((line) => line.replace(/^\s*(\/\*\*|\*\/|\*) ?/, ""));
    for (const [index, line] of lines.entries()) {
      if (!line.startsWith("@example")) continue;
      const next = lines.findIndex((other, at) => at > index && other.startsWith("@"));
      const blocks = fencedBlocks(lines.slice(index, next === -1 ? undefined : next), file, first + index);
      if (blocks.length === 0)
        throw new Error(`${file}:${first + index}: the @example needs its code between \`\`\`ts fences`);
      snippets.push(...blocks);
    }
  }
  return snippets;
}

function fencedBlocks(lines: readonly string[], file: string, firstLine: number): Snippet[] {
  const snippets: Snippet[] = [];
  let open: { fence: string; language: string; from: number } | undefined;
  for (const [index, line] of lines.entries()) {
    if (open === undefined) {
      const [, fence, language] = /^\s*(`{3,})(\S*)/.exec(line) ?? [];
      if (fence !== undefined) open = { fence, language: language ?? "", from: index + 1 };
    } else if (line.trim() === open.fence) {
      const code = lines.slice(open.from, index).join("\n");
      snippets.push({ file, line: firstLine + open.from, language: open.language, code });
      open = undefined;
    }
  }
  if (open !== undefined) throw new Error(`${file}:${firstLine + open.from - 1}: the fence is never closed`);
  return snippets;
}
