import { problemKind } from "@alcedo-dosimetry/protocol";
import type { EngineClient } from "../engine/engine-client.ts";
import { ask, errorWords, ProblemError } from "../talk/ask.ts";
import type { Book } from "./book.ts";

/** What is known of the evaluation that the server keeps. */
export interface KeptEvaluation {
  readonly revision: number;
  /** Its digest; absent where the campaign cannot be evaluated. */
  readonly digest?: string;
  /** Where the page's evaluation differs from the server's; absent where they are the same to the last bit. */
  readonly differs?: string;
  /** Why there is none. */
  readonly trouble?: string;
}

/** See {@link keepEvaluations}. */
export interface KeptEvaluations {
  readonly latest: () => KeptEvaluation | undefined;
  /** Looks whether there is something to keep. */
  readonly look: () => void;
  readonly close: () => void;
}

/** So long nothing changes before an evaluation is worth keeping, in ms. */
const QUIET = 1_500;

/** Has the server evaluate and keep the campaign whenever typing has paused, and holds its result against the page's own. */
export function keepEvaluations(id: string, book: Book, engine: EngineClient, tell: () => void): KeptEvaluations {
  let latest: KeptEvaluation | undefined;
  let asked = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let closed = false;
  const keep = async (revision: number): Promise<KeptEvaluation> => {
    try {
      const { result, digest } = await ask("evaluate", { id, body: { after: revision } });
      const now = book.state();
      if (now.revision !== revision || now.waiting > 0) return { revision, digest };
      const differs = await engine.sameAs(result);
      // an edit may have come while the engine compared
      const same = book.state().revision === revision && book.state().waiting === 0;
      return { revision, digest, ...(same && differs !== null && { differs }) };
    } catch (error) {
      if (error instanceof ProblemError && problemKind(error.problem) === "cannot-evaluate") return { revision };
      return { revision, trouble: errorWords(error) };
    }
  };
  const look = () => {
    if (closed) return;
    const { revision, waiting } = book.state();
    if (waiting > 0 || revision === asked) return;
    clearTimeout(timer);
    timer = setTimeout(() => {
      const now = book.state();
      if (closed || now.waiting > 0 || now.revision !== revision) return;
      asked = revision;
      void keep(revision).then((kept) => {
        latest = kept;
        if (!closed) tell();
      });
    }, QUIET);
  };
  return {
    latest: () => latest,
    look,
    close: () => {
      closed = true;
      clearTimeout(timer);
    },
  };
}
