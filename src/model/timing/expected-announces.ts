/**
 * Where Announces come to when every clock has decided: the best grandmaster's spread first, hop by hop, then the next
 * one's over what is left. A first guess in n log n; the election proves it or does without.
 */
import { MOST_STEPS, keepBest, rank, type Announce, type ElectionClock, type Heard } from './announces.js';
import { compareDataSets, compareQualities, type DataSet } from './bmca.js';
import { neverFollows } from './clock-quality.js';

/** A clock that may lead, with its own claim and those of its ports that take no part. */
export interface Claimant<C extends ElectionClock> {
  readonly clock: C;
  readonly own: DataSet;
  readonly repeated: ReadonlySet<number>;
}

export function expectedAnnounces<C extends ElectionClock>(claimants: readonly Claimant<C>[]): Heard<C> {
  const heard = new Map<number, Announce<C>[]>();
  const listeners = new Map<number, { readonly claimant: Claimant<C>; readonly port: number }[]>();
  for (const claimant of claimants) {
    claimant.clock.ports.forEach(({ path }, port) => {
      if (claimant.repeated.has(port)) return;
      const known = listeners.get(path);
      if (known === undefined) listeners.set(path, [{ claimant, port }]);
      else known.push({ claimant, port });
    });
  }
  const followed = new Set<C>();
  const byRank = [...claimants].sort((a, b) => compareQualities(a.clock.quality, b.clock.quality).order);
  for (const first of byRank) {
    if (followed.has(first.clock)) continue;
    let level = announcesOf(first, first.clock, 0, undefined);
    while (level.length > 0) {
      const next: Announce<C>[] = [];
      for (const announce of level.sort((a, b) => rank(a.data, b.data))) {
        const { path, masterOnly } = announce.from.ports[announce.port] ?? NO_PORT;
        const before = heard.get(path);
        // Whoever hears a better one on the path leaves it to lead there.
        if (!masterOnly && before?.some((one) => one.from !== announce.from) === true) continue;
        keepBest(heard, path, announce);
        if (before !== undefined) continue;
        for (const { claimant, port } of listeners.get(path) ?? []) {
          const { clock, own } = claimant;
          if (clock === announce.from || followed.has(clock) || clock.ports[port]?.masterOnly === true) continue;
          if (neverFollows(clock.quality.clockClass)) continue;
          const data = { ...announce.data, receiver: { clock: clock.quality.identity, port: port + 1 } };
          if (compareDataSets(own, data).better === 'first') continue;
          followed.add(clock);
          if (clock.relays) next.push(...announcesOf(claimant, announce.source, announce.data.stepsRemoved + 1, port));
        }
      }
      level = next;
    }
  }
  return heard;
}

const NO_PORT = { path: -1, masterOnly: false };

/** What a clock announces of a grandmaster, on every port but the one it hears it by. */
function announcesOf<C extends ElectionClock>(
  { clock, repeated }: Claimant<C>,
  source: C,
  stepsRemoved: number,
  but: number | undefined,
): Announce<C>[] {
  if (stepsRemoved >= MOST_STEPS) return [];
  return clock.ports.flatMap((_, port) =>
    port === but || repeated.has(port)
      ? []
      : [
          {
            from: clock,
            port,
            source,
            data: {
              grandmaster: source.quality,
              stepsRemoved,
              sender: { clock: clock.quality.identity, port: port + 1 },
            },
          },
        ],
  );
}
