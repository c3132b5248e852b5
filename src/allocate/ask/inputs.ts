/** The receivers of each kind, each with the stream it takes, and the streams that nobody takes. */
import type { AllAnswers } from './answers.js';
import { MATTER, type CommonFormat, type CommonKind } from './common-kinds.js';

export interface TakenInput {
  readonly name: string;
  readonly format: CommonFormat;
  /** The stream, as `camera-1/picture`. */
  readonly from: string;
}

interface Stream {
  readonly kind: CommonKind;
  readonly format: CommonFormat;
  readonly text: string;
}

/** What boxes of an area are called; each area counts its own, so it is a part of the name where several have the kind. */
export function lineName(area: string, kind: CommonKind, areas: AllAnswers['areas']): string {
  const several = areas.filter(({ crates }) => crates.some((crate) => crate.kind === kind)).length > 1;
  return several ? `${area} ${kind.name}` : kind.name;
}

/** All boxes of a kind take the same: as many streams as they have receivers for, in the order of who is taken from. */
export function inputsOf({
  areas,
  taking,
}: Pick<AllAnswers, 'areas' | 'taking'>): ReadonlyMap<CommonKind, readonly TakenInput[]> {
  const streams = streamsOf(areas);
  return new Map(
    [...taking].map(([taker, sources]) => [
      taker,
      taker.inputs.flatMap(({ name, takes, most }) =>
        sources
          .flatMap((source) => streams.filter(({ kind, format }) => kind === source && MATTER[format] === takes))
          .slice(0, most)
          .map(({ format, text }, index): TakenInput => ({
            name: most === 1 ? name : `${name}-${index + 1}`,
            format,
            from: text,
          })),
      ),
    ]),
  );
}

/** Streams that no receiver takes. */
export function untakenOf(answers: Pick<AllAnswers, 'areas' | 'taking'>): readonly string[] {
  const taken = new Set([...inputsOf(answers).values()].flatMap((inputs) => inputs.map(({ from }) => from)));
  return streamsOf(answers.areas).flatMap(({ text }) => (taken.has(text) ? [] : [text]));
}

function streamsOf(areas: AllAnswers['areas']): readonly Stream[] {
  return areas.flatMap(({ name, crates }) =>
    crates.flatMap(({ kind, count }) =>
      Array.from({ length: count }, (_, index) => `${lineName(name, kind, areas)}-${index + 1}`).flatMap((device) =>
        kind.senders.map(({ name: stream, format }): Stream => ({ kind, format, text: `${device}/${stream}` })),
      ),
    ),
  );
}
