/** What a model says held against what was seen: each host port and link direction by itself. */
import type { Picture } from './twin.js';

export interface Difference {
  /** Which time the senders sent. */
  readonly stage: number;
  /** `host/group` of the sender. */
  readonly stream: string;
  readonly where: 'host' | 'link';
  readonly name: string;
  /** True where the plane carried it and the model does not say so. */
  readonly seen: boolean;
}

/** One stage of a rig as the model has it. */
export interface Expected {
  readonly picture: Picture;
  /** Streams that go either way, so that nothing can be said against them. */
  readonly aside: ReadonlySet<string>;
  /** Link directions that end at a blocked port: what is flooded into them comes to it and no further. */
  readonly blocked: ReadonlySet<string>;
}

export function differences(expected: readonly Expected[], seen: readonly Picture[]): readonly Difference[] {
  return expected.flatMap(({ picture, aside, blocked }, stage) => {
    const other = seen[stage];
    if (other === undefined) return [{ stage, stream: '', where: 'host' as const, name: 'nothing seen', seen: false }];
    // What was taken away still sends, and must get nowhere.
    return [...new Set([...Object.keys(picture), ...Object.keys(other)])]
      .filter((stream) => !aside.has(stream))
      .flatMap((stream) => [
        ...differing(stage, stream, 'host', picture[stream]?.hosts ?? [], other[stream]?.hosts ?? []),
        ...differing(stage, stream, 'link', picture[stream]?.links ?? [], other[stream]?.links ?? []).filter(
          ({ name, seen: carried }) => !(carried && blocked.has(name)),
        ),
      ]);
  });
}

function differing(
  stage: number,
  stream: string,
  where: Difference['where'],
  expected: readonly string[],
  seen: readonly string[],
): readonly Difference[] {
  return [
    ...expected.filter((name) => !seen.includes(name)).map((name) => ({ stage, stream, where, name, seen: false })),
    ...seen.filter((name) => !expected.includes(name)).map((name) => ({ stage, stream, where, name, seen: true })),
  ];
}
