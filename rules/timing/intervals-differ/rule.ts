import {
  clause,
  clockMark,
  clockTouch,
  clocksByName,
  defineRule,
  groupBy,
  islandSubject,
  listNames,
  settledIslands,
  type Clock,
  type Impatient,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/intervals-differ',
  summary: 'Clocks of one domain have different announce intervals',
  severity: 'warning',
  sources: [clause('SMPTE ST 2059-2', '6.7.2'), clause('IEEE 1588-2008', '9.2.6.11')],
  needs: ['clocks'],
  *check({ model: { timing } }) {
    const impatient = new Map(timing.impatient.map((one) => [one.follower, one]));
    for (const island of settledIslands(timing)) {
      const known = island.clocks.filter(
        ({ assumed, ports }) => !assumed.has('logAnnounceInterval') && ports.length > 0,
      );
      const byInterval = groupBy(known, ({ logAnnounceInterval }) => String(logAnnounceInterval));
      if (byInterval.size < 2) continue;
      const leader = island.leaders[0]?.clock;
      const usual = usualInterval(byInterval, leader);
      const odd = clocksByName(known.filter(({ logAnnounceInterval }) => logAnnounceInterval !== usual));
      const [first] = odd;
      if (first === undefined) continue;
      const hasty = clocksByName(known).flatMap((one) => expiringOf(impatient.get(one)));
      yield {
        subject: islandSubject(island),
        parties: odd.map(({ name }) => name),
        severity: hasty.length > 0 ? 'error' : 'warning',
        what: `announce intervals differ in domain ${first.domain}: ${listNames(odd.map((one) => `${one.name} has ${seconds(one.logAnnounceInterval)}`))}, the rest ${seconds(usual)}`,
        at: clockMark(first, undefined, 'logAnnounceInterval'),
        others: odd.slice(1).map((one) => clockMark(one, undefined, 'logAnnounceInterval')),
        onAir:
          hasty.length > 0
            ? `${listNames(hasty)} ${hasty.length === 1 ? 'gives' : 'give'} up between two Announces and ${hasty.length === 1 ? 'locks' : 'lock'} anew every few seconds: pictures and sound of ${hasty.length === 1 ? 'it' : 'them'} break up again and again`
            : 'when the grandmaster is lost, clocks give it up at different times, and some follow a clock that others have not accepted yet: pictures and sound step one after the other',
        fix: `set logAnnounceInterval ${usual} on ${listNames(odd.map(({ name }) => name))}`,
        touch: clockTouch(first),
      };
    }
  },
});

/** What most have; the leader's where two are equally usual. */
function usualInterval(byInterval: ReadonlyMap<string, readonly Clock[]>, leader: Clock | undefined): number {
  const own = leader?.logAnnounceInterval;
  const [most] = [...byInterval].sort(
    ([a, x], [b, y]) =>
      y.length - x.length || Number(Number(b) === own) - Number(Number(a) === own) || Number(a) - Number(b),
  );
  return Number(most?.[0] ?? 0);
}

/** A timeout too short at the parent's own interval is `timing/interval-out-of-profile`. */
function expiringOf(one: Impatient | undefined): readonly string[] {
  if (one?.tolerance !== 'expires' || one.follower.logAnnounceInterval === one.parent.logAnnounceInterval) return [];
  return [one.follower.name];
}

function seconds(logInterval: number): string {
  return `${logInterval} (${2 ** logInterval} s)`;
}
