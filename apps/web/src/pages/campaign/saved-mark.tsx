import type { BookState } from "../../book/book.ts";
import type { KeptEvaluation } from "../../book/kept-evaluations.ts";
import "./saved-mark.css";

/** Whether everything that was typed is on the server's disk, in a word; why not, where it is not. */
export function SavedMark({ state, kept }: { readonly state: BookState; readonly kept: KeptEvaluation | undefined }) {
  const { waiting, trouble, refused, revision } = state;
  if (refused !== undefined) return <span className="saved saved-wrong">not taken</span>;
  if (waiting > 0)
    return (
      <span className={trouble === undefined ? "saved" : "saved saved-wrong"} title={trouble}>
        {waiting === 1 ? "1 change" : `${waiting} changes`} not yet on disk
      </span>
    );
  if (trouble !== undefined)
    return (
      <span className="saved saved-wrong" title={trouble}>
        no connection
      </span>
    );
  const evaluated = kept?.revision === revision && kept.digest !== undefined;
  return (
    <span
      className="saved"
      title={evaluated ? `revision ${revision}; evaluation ${kept.digest}` : `revision ${revision}`}
    >
      {evaluated ? "on disk, evaluation kept" : "on disk"}
    </span>
  );
}
