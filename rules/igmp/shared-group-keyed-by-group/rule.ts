import { regroup } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  isNonEmpty,
  legLabel,
  mapAll,
  mark,
  noted,
  receiverLegLabel,
} from '../../../src/doors/rule.js';
import { arrivingAt, blindSharings, type Flow } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/shared-group-keyed-by-group',
  summary: 'Senders that share a group are told apart by source, but the switches forward by group',
  severity: 'warning',
  sources: [clause('RFC 4607', '6'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'sources', 'receivers', 'switchPorts', 'snoopingKeys'],
  brief: 'shared group forwarded without its source',
  harm: 'spoils',
  *check({ model }) {
    const bps = (flows: readonly Flow[] = []): number =>
      flows.reduce((sum, { leg }) => sum + (model.rates.onWire(leg)?.onPort ?? 0), 0);
    for (const sharing of blindSharings(model.groups, model.network, model.reception)) {
      const { nodes, domain } = sharing.forwarding.segment;
      const blind = byLabel(
        nodes.flatMap((one) => (one.snoopingKey === 'source-group' ? [] : [{ switch: one, by: one.snoopingKey }])),
        (one) => one.switch.name,
      );
      const receivers = byLabel([...sharing.unwanted.keys()], receiverLegLabel);
      if (!isNonEmpty(blind) || !isNonEmpty(receivers)) continue;
      const unwanted = mapAll(receivers, (receiver) => ({ receiver, bps: bps(sharing.unwanted.get(receiver)) }));
      const worst = unwanted.reduce((most, one) => (one.bps > most.bps ? one : most)).receiver;
      const group = formatAddress(sharing.use.group);
      const legs = byLabel([...new Set(sharing.flows.map(({ leg }) => leg))], legLabel);
      const [first, ...rest] = mapAll(blind, (one) => mark(one.switch, one.switch.name, 'snoopingKey'));
      yield {
        subject: `${group} in ${domain.key}`,
        parties: [...legs.map(legLabel), ...receivers.map(receiverLegLabel), ...blind.map((one) => one.switch.name)],
        confidence: blind.some(({ by }) => by === undefined) ? 'assumed' : 'certain',
        cure: () => {
          const [keeper] = legs;
          return regroup(
            model,
            legs.filter(({ sender }) => sender !== keeper?.sender),
            { certainty: 'likely' },
          );
        },
        facts: {
          group,
          where: domain.title,
          legs,
          switches: blind,
          receivers,
          worst,
          loadBps: bps(arrivingAt(sharing, worst)),
        },
        at: noted(first, 'key'),
        others: [...rest, ...legs.map((leg) => mark(leg, legLabel(leg), 'group'))],
        touch: { kind: 'stream', name: group },
      };
    }
  },
  words,
});
