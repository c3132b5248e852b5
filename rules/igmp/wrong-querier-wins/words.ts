import { agree, counted, formatRate, listNames, type FindingWords, type NonEmpty } from '../../../src/doors/rule.js';
import { protocolName, querierLabel, type Protocol, type QuerierFact } from '../../../src/doors/igmp.js';

export interface Facts {
  readonly protocol: Protocol;
  /** Where it wins: `VLAN red-video`. */
  readonly where: string;
  readonly winner: QuerierFact;
  /** Whether it queries only because it routes. */
  readonly routes: boolean;
  /** Those meant to query, one for each VLAN entry. */
  readonly meant: NonEmpty<QuerierFact>;
  /** Streams sent there, and what they put on a link; 0 where no rate is known. */
  readonly streams: number;
  readonly sentBps: number;
}

export type Note = 'meant' | 'wins' | 'routes';

export function words({ protocol, where, winner, routes, meant, streams, sentBps }: Facts): FindingWords<Note> {
  const [{ on, vlan }] = meant;
  return {
    what: `${querierLabel(winner)}${routes ? ', which queries because it routes,' : ''} wins the ${protocolName(protocol)} election in ${where}, not the intended ${listNames(meant.map(querierLabel))}: the lowest address wins`,
    onAir: `router ports point to ${winner.on?.name ?? 'the winner'}: ${sentWords(streams, sentBps)} carried there whether anybody wants ${agree(streams, 'it', 'them')} or not, and the links on that way fill first`,
    fix: `write ${entryOf(winner)} first in \`${protocol}: {querier: …}\` of VLAN ${vlan.name}, as it queries anyway; or, to have ${on?.name ?? 'the intended one'} query, give it an address below ${winner.address ?? 'all others'}`,
    label: (name, note) => `${name}: ${LABELS[note]}`,
  };
}

const LABELS: Readonly<Record<Note, string>> = {
  meant: 'meant to query',
  wins: 'wins',
  routes: 'routes, so it queries',
};

/** The winner as an entry of the VLAN's queriers. */
function entryOf({ on, address }: QuerierFact): string {
  const parts = [
    ...(on === undefined ? [] : [`on: ${on.name}`]),
    ...(address === undefined ? [] : [`address: ${address}`]),
  ];
  return `\`{${parts.join(', ')}}\``;
}

function sentWords(streams: number, sentBps: number): string {
  if (streams === 0) return 'every stream sent there is';
  return `${agree(streams, 'the', 'all')} ${counted(streams, 'stream')} sent there${sentBps === 0 ? '' : ` (${formatRate(sentBps)})`} ${agree(streams, 'is', 'are')}`;
}
