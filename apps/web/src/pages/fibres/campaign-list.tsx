import type { ListedCampaign } from "@alcedo-dosimetry/protocol";
import { useEffect, useState } from "react";
import { hashOf } from "../../app/route.ts";
import { live } from "../../app/session.ts";
import { Button } from "../../look/button.tsx";
import { StandingMark } from "../../look/standing-mark.tsx";
import { Table } from "../../look/table.tsx";
import { TextField } from "../../look/text-field.tsx";
import { ask, errorWords } from "../../talk/ask.ts";

/** Typing goes on for so long before it is searched, in ms. */
const PAUSE = 180;

/** The campaigns, the last changed first, with a search over their words. */
export function CampaignList({
  fibre,
  onAllFibres,
}: {
  readonly fibre: string | undefined;
  readonly onAllFibres: () => void;
}) {
  const [words, setWords] = useState("");
  const { campaigns, next, trouble, more } = useCampaigns(words, fibre);
  return (
    <section aria-labelledby="campaigns-title" className="home-campaigns">
      <header className="home-campaigns-head">
        <h2 id="campaigns-title">{fibre === undefined ? "Campaigns" : `Campaigns of ${fibre}`}</h2>
        {fibre !== undefined && (
          <Button kind="quiet" onPress={onAllFibres}>
            all fibres
          </Button>
        )}
        <div className="home-search" data-search>
          <TextField label="Search" value={words} onChange={setWords} type="search" />
        </div>
      </header>
      {trouble !== undefined && <p role="alert">{trouble}</p>}
      {campaigns && campaigns.length === 0 && (
        <p className="muted">
          {words.trim() === "" ? "None yet." : `None with “${words.trim()}” in its title, name, fibre or beam.`}
        </p>
      )}
      {campaigns && campaigns.length > 0 && (
        <Table
          label="List of campaigns"
          rows={campaigns}
          keyOf={({ id }) => id}
          columns={[
            {
              id: "title",
              title: "campaign",
              names: true,
              cell: ({ id, title, name }) => (
                <a href={hashOf({ page: "campaign", id })}>{title === "" ? name : title}</a>
              ),
            },
            { id: "fibre", title: "fibre", cell: ({ fibre: own }) => own },
            { id: "beam", title: "beam", cell: ({ beam }) => beam },
            { id: "readings", title: "readings", number: true, cell: ({ readings }) => readings },
            {
              id: "standing",
              title: "standing",
              cell: ({ standing }) =>
                standing ? <StandingMark standing={standing} /> : <span className="muted small">not kept</span>,
            },
            {
              id: "at",
              title: "last changed",
              cell: ({ at, who }) => `${at.slice(0, 16).replace("T", " ")} by ${who}`,
            },
          ]}
        />
      )}
      {next !== undefined && (
        <div>
          <Button onPress={more}>More</Button>
        </div>
      )}
    </section>
  );
}

function useCampaigns(words: string, fibre: string | undefined) {
  const [campaigns, setCampaigns] = useState<readonly ListedCampaign[]>();
  const [next, setNext] = useState<number>();
  const [trouble, setTrouble] = useState<string>();
  const query = { ...(words.trim() !== "" && { words: words.trim() }), ...(fibre !== undefined && { fibre }) };
  const key = JSON.stringify(query);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `key` stands for the query
  useEffect(() => {
    const given = new AbortController();
    const look = () =>
      void ask("campaigns", { query, signal: given.signal }).then(
        (list) => {
          setCampaigns(list.campaigns);
          setNext(list.next);
          setTrouble(undefined);
        },
        (error: unknown) => !given.signal.aborted && setTrouble(errorWords(error)),
      );
    const timer = setTimeout(look, campaigns === undefined ? 0 : PAUSE);
    const stop = live().onEvent(look);
    return () => {
      clearTimeout(timer);
      stop();
      given.abort();
    };
  }, [key]);
  const more = () =>
    void ask("campaigns", { query: { ...query, after: next } }).then(
      (list) => {
        setCampaigns([...(campaigns ?? []), ...list.campaigns]);
        setNext(list.next);
      },
      (error: unknown) => setTrouble(errorWords(error)),
    );
  return { campaigns, next, trouble, more };
}
