import {
  boxTouch,
  byLabel,
  candidateLabel,
  citedFor,
  clause,
  defineRule,
  electionWinner,
  formatAddress,
  formatRate,
  inPrefix,
  isLinkLocal,
  listNames,
  mark,
  protocolName,
  segmentSubject,
  streamsWords,
  subnetFor,
  type Candidate,
  type GroupSegment,
  type Model,
} from '../../../src/lint/rule.js';

const SOURCES = [clause('RFC 3376', '6.6.2'), clause('RFC 3810', '7.6.2'), clause('RFC 4541', '2.1.1')];

export default defineRule({
  id: 'igmp/wrong-querier-wins',
  summary: 'Another querier than the intended one wins the election',
  severity: 'warning',
  sources: SOURCES,
  needs: ['queriers'],
  *check({ model }) {
    for (const segment of model.groupSegments) {
      if (segment.candidates.length < 2) continue;
      const winner = electionWinner(segment.candidates, segment.protocol);
      const meant = byLabel(
        segment.candidates.filter((one) => one.intended),
        candidateLabel,
      );
      const [intended] = meant;
      if (
        winner === undefined ||
        intended === undefined ||
        meant.some((one) => one.on === winner.on || !mayWin(one, segment))
      )
        continue;
      const name = protocolName(segment.protocol);
      const planned = listNames(meant.map(candidateLabel));
      yield {
        subject: segmentSubject(segment),
        parties: [...meant, winner].flatMap(({ on }) => on?.name ?? []),
        what: `${candidateLabel(winner)}${winner.querier === undefined ? ', which queries because it routes,' : ''} wins the ${name} election in ${segment.domain.title}, not the intended ${planned}: the lowest address wins`,
        at:
          intended.querier === undefined
            ? mark(intended.vlan, `VLAN ${intended.vlan.name}`)
            : mark(intended.querier, `${candidateLabel(intended)}: meant to query`, 'address'),
        others:
          winner.querier === undefined
            ? winner.vlan.routing === undefined
              ? []
              : [mark(winner.vlan.routing, `${candidateLabel(winner)}: routes, so it queries`, 'routers')]
            : [mark(winner.querier, `${candidateLabel(winner)}: wins`, 'address')],
        onAir: `router ports point to ${winner.on?.name ?? 'the winner'}: ${moved(segment, model)} carried there whether anybody wants ${streamsOf(segment) === 1 ? 'it' : 'them'} or not, and the links on that way fill first`,
        fix: `write ${entryOf(winner)} first in \`${segment.protocol}: {querier: …}\` of VLAN ${intended.vlan.name}, as it queries anyway; or, to have ${intended.on?.name ?? 'the intended one'} query, give it an address below ${winner.address === undefined ? 'all others' : formatAddress(winner.address)}`,
        touch: boxTouch(intended.on, intended.vlan),
        sources: citedFor(segment.protocol, SOURCES),
      };
    }
  },
});

/** The winner as an entry of the VLAN's queriers. */
function entryOf({ on, address }: Candidate): string {
  const parts = [
    ...(on === undefined ? [] : [`on: ${on.name}`]),
    ...(address === undefined ? [] : [`address: ${formatAddress(address)}`]),
  ];
  return `\`{${parts.join(', ')}}\``;
}

function moved(segment: GroupSegment, model: Model): string {
  const count = streamsOf(segment);
  if (count === 0) return 'every stream sent there is';
  const bps = segment.sent.reduce((sum, leg) => sum + (model.rates.onWire(leg)?.onLink ?? 0), 0);
  return `${count === 1 ? 'the 1 stream' : `all ${streamsWords(count)}`} sent there${bps === 0 ? '' : ` (${formatRate(bps)})`} ${count === 1 ? 'is' : 'are'}`;
}

function streamsOf({ sent }: GroupSegment): number {
  return sent.length;
}

/** A querier whose address is faulty or unknown: `igmp/querier-address` speaks, or nobody can tell. */
function mayWin({ address, vlan }: Candidate, { protocol }: GroupSegment): boolean {
  if (address === undefined || BigInt(address) === 0n) return false;
  if (protocol === 'mld') return isLinkLocal(address);
  const subnet = subnetFor(vlan, address);
  return subnet === undefined || inPrefix(address, subnet);
}
