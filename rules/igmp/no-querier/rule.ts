import { createEditList, likely, peopleDecide, addQueriers } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  createFillsPorts,
  defineRule,
  formatAddress,
  noted,
  PORT_SHARE,
  receiverLegLabel,
  segmentSubject,
  settingWith,
  whileUnqueried,
  type Interface,
  type Model,
  querierPlaces,
} from '../../../src/doors/rule.js';
import { citedFor, floodOver, hostsIn, settingMark, wantedByHost, type GroupSegment } from '../../../src/doors/igmp.js';
import { words, type Facts, type Flooded, type Pruned } from './words.js';

const SOURCES = [clause('RFC 3376', '8.4'), clause('RFC 3810', '9.4'), clause('RFC 4541', '2.1.1')];

export default defineRule<Facts, 'snoops'>({
  id: 'igmp/no-querier',
  summary: 'Switches snoop, but nobody queries',
  severity: 'error',
  sources: SOURCES,
  needs: ['groups', 'snooping'],
  brief: 'nobody queries',
  explains: ['no querier'],
  *check({ plan, model, thresholdElsewhere }) {
    const fillsPorts = createFillsPorts(model, (rig) => thresholdElsewhere(PORT_SHARE, rig));
    for (const segment of model.groupSegments) {
      const { domain, candidates, routed, snooping, protocol } = segment;
      if (snooping !== true || candidates.length > 0 || routed || !segment.carries) continue;
      const setting = settingWith(segment, ({ management }) => management.snooping === true);
      if (setting === undefined) continue;
      const { fate, assumed, stated } = whileUnqueried(segment);
      const hosts = hostsIn(segment, plan, model.domains);
      if (fate === 'flood' && fillsPorts(segment.forwarding)) continue;
      const places = querierPlaces(segment, model.addressing);
      const [querier] = places;
      yield {
        subject: segmentSubject(segment),
        parties: domain.vlans.map(({ name }) => name),
        severity: fate === 'flood' ? 'warning' : 'error',
        confidence: stated ? 'certain' : 'assumed',
        cure: () => {
          const edits = createEditList();
          const done = places.length > 0 && addQueriers(model, edits, setting.vlan, protocol, places);
          return done ? likely(edits) : peopleDecide('which switch is to query, and from which address');
        },
        facts: {
          protocol,
          where: domain.title,
          vlans: domain.vlans,
          vlan: setting.vlan,
          places: places.map(({ on, from }) => ({ on, from: from === undefined ? undefined : formatAddress(from) })),
          ...(fate === 'flood'
            ? flooded(segment, hosts, model)
            : { form: 'prune', ...reached(segment), assumed: byLabel(assumed, ({ name }) => name) }),
        },
        at: noted(settingMark(setting, 'snooping'), 'snoops'),
        touch:
          querier === undefined ? { kind: 'vlan', name: setting.vlan.name } : { kind: 'switch', name: querier.on.name },
        sources: citedFor(protocol, SOURCES),
      };
    }
  },
  words,
});

function flooded(
  { sent, flows }: GroupSegment,
  hosts: readonly Interface[],
  { rates }: Model,
): Pick<Flooded, 'form' | 'slowest' | 'unrated'> {
  const takes = flows.flatMap(({ leg, receivers }) => receivers.map((one) => [one.interface, leg] as const));
  const { slowest, unrated } = floodOver(sent, hosts, wantedByHost(takes), (leg) => rates.onWire(leg)?.onPort);
  return { form: 'flood', slowest, unrated };
}

/** Who takes what over more than one switch, and whether anybody takes it on the sender's own. */
function reached({ flows, membershipS }: GroupSegment): Pick<Pruned, 'far' | 'near' | 'membershipS'> {
  const receivers = flows.flatMap((flow) => flow.receivers.map(({ node, leg }) => ({ far: node !== flow.from, leg })));
  const far = new Set(receivers.filter((one) => one.far).map(({ leg }) => receiverLegLabel(leg)));
  return { far: byLabel([...far], (name) => name), near: receivers.some((one) => !one.far), membershipS };
}
