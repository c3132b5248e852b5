import { agree, counted, type Device, type FindingWords, type Switch } from '../../../src/doors/rule.js';
import { forgettingWords, formatSeconds, protocolName, type Protocol } from '../../../src/doors/igmp.js';

export interface Facts {
  readonly protocol: Protocol;
  /** Where it queries: `VLAN red-video`. */
  readonly where: string;
  readonly querier: Switch | Device | undefined;
  /** Streams that do not pass through it. */
  readonly survivors: number;
  /** What becomes of them while nobody queries. */
  readonly fate: 'flood' | 'prune';
  /** Switches that do not say so, taken for pruning. */
  readonly assumed: readonly Switch[];
  /** From its failure until the last membership is forgotten. */
  readonly forgottenS: number;
  /** Until a second querier would take over. */
  readonly takeoverS: number;
}

export function words(facts: Facts): FindingWords<'only'> {
  const { protocol, where, querier, survivors, fate, assumed, forgottenS, takeoverS } = facts;
  const fails =
    fate === 'flood'
      ? 'when it fails, the switches flood every stream to every port'
      : `when it fails, ${agree(survivors, 'that stream plays', 'those streams play')} on at first and ${agree(survivors, 'stops', 'stop')} within ${formatSeconds(forgottenS)}`;
  return {
    what: `${querier?.name ?? 'one box'} is the only ${protocolName(protocol)} querier of ${where}, though ${counted(survivors, 'stream')} there ${agree(survivors, 'does', 'do')} not pass through it`,
    onAir: `${fails}; a backup would query after ${formatSeconds(takeoverS)}, just before members are forgotten${fate === 'flood' ? '' : forgettingWords(assumed)}`,
    fix: `let a second switch query in ${where}, from a higher address, and write it after ${querier?.name ?? 'the first'} under \`querier\``,
    label: (name) => `${name}: the only one`,
  };
}
