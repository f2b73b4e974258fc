import { applyEdits, type Campaign, type Edit, EditError, visitsOf } from "@alcedo-dosimetry/campaign";
import { conditionFigure, figureOf } from "@alcedo-dosimetry/report";
import { asFarAsComplete, type Provisional } from "./as-far-as-complete.ts";
import { firstDifference } from "./first-difference.ts";
import type { Answer, Order, Question, Reply } from "./orders.ts";
import { outcomeOf } from "./outcome.ts";
import { traceView } from "./trace-view.ts";
import { whatIf } from "./what-if.ts";

/** What the engine needs from where it runs. */
export interface EngineHost {
  readonly post: (answer: Answer) => void;
  /** Runs the work once the orders that wait already have been received. */
  readonly later: (work: () => void) => void;
  /** A clock in ms. */
  readonly now: () => number;
}

/**
 * Owns a campaign and its evaluation. Edits are applied as they come; what they lead to is worked out once, for the latest:
 * whoever types fast does not wait for results that nobody sees.
 */
export function createEngine({ post, later, now }: EngineHost): { readonly receive: (order: Order) => void } {
  let campaign: Campaign | undefined;
  /** What is being typed, not entered yet. */
  let draft: readonly Edit[] | null = null;
  /** What comes of it, draft included. */
  let outcome: Provisional | undefined;
  /** Of the latest order that changed the campaign, while its outcome has not been told. */
  let untold: number | undefined;
  let waiting = false;
  const questions: { readonly question: Question; readonly request: number }[] = [];

  /** With what is being typed; a draft whose row somebody has taken out meanwhile is none any more. */
  const shown = (open: Campaign): Campaign => {
    try {
      return draft ? applyEdits(open, draft) : open;
    } catch (error) {
      if (!(error instanceof EditError)) throw error;
      draft = null;
      return open;
    }
  };
  const work = () => {
    waiting = false;
    if (!campaign) return;
    const start = now();
    const typed = shown(campaign);
    outcome ??= asFarAsComplete(typed);
    if (untold !== undefined) {
      post({ outcome: outcomeOf(outcome, untold, now() - start) });
      untold = undefined;
    }
    for (const { question, request } of questions.splice(0)) {
      try {
        post({ request, reply: reply(question, typed, outcome) });
      } catch (error) {
        post({ request, failed: error instanceof Error ? error.message : String(error) });
      }
    }
  };
  const receive = (order: Order) => {
    if ("question" in order) questions.push(order);
    else {
      if ("draft" in order) draft = order.draft;
      else {
        draft = null;
        if ("open" in order) campaign = order.open;
        else if (campaign) campaign = applyEdits(campaign, order.edits);
      }
      outcome = undefined;
      untold = order.number;
    }
    if (waiting) return;
    waiting = true;
    later(work);
  };
  return { receive };
}

function reply(question: Question, typed: Campaign, { campaign, evaluation }: Provisional): Reply {
  if ("trace" in question) return { to: "trace", is: traceView(evaluation, question.trace, question.path) };
  if ("figures" in question)
    return { to: "figures", is: question.figures.flatMap((id) => drawn(campaign, evaluation, id) ?? []) };
  if ("whatIf" in question)
    return { to: "whatIf", is: whatIf(evaluation, asFarAsComplete(applyEdits(typed, question.whatIf)).evaluation) };
  if ("visits" in question) return { to: "visits", is: visitsOf(typed, evaluation) };
  return { to: "sameAs", is: firstDifference(evaluation.result, question.sameAs) };
}

/** A figure by its id; `geometry.<series>.<condition>` is what is set up under one condition. */
function drawn(campaign: Campaign, evaluation: Provisional["evaluation"], id: string) {
  const [, series, condition] = /^geometry\.(separation|output-factors)\.(.+)$/.exec(id) ?? [];
  if (series !== undefined && condition !== undefined) return conditionFigure(campaign, series, condition);
  return figureOf(campaign, evaluation, id);
}
