import { createEditList, likely, regroup, type Cure, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  isIPv4,
  isNonEmpty,
  legLabel,
  mark,
  noted,
  receiverLegLabel,
  type Mark,
  type ReceiverLeg,
  type Vlan,
  type Leg,
  type Model,
} from '../../../src/doors/rule.js';
import { filtersSources, toldApartBySource } from '../../../src/doors/sources.js';
import { words, type Facts, type Note, type OldVlan } from './words.js';

export default defineRule<Facts, Note>({
  id: 'sources/not-filtered',
  summary: 'Several sources share a group, and somewhere receivers cannot tell them apart by source',
  severity: 'error',
  sources: [clause('RFC 3376', '1'), clause('RFC 4604', '2.2.3'), clause('RFC 4607', '6'), clause('RFC 3810', '1')],
  needs: ['groups', 'sources'],
  brief: 'sources of one group not told apart',
  explains: ['refused join'],
  *check({ model }) {
    for (const use of model.groups.shared) {
      if (!toldApartBySource(use)) continue;
      if (new Set(use.legs.map((leg) => leg.sender)).size < 2) continue; // both paths of one stream: receivers merge them
      const joiners = model.reception.joiners(use);
      const any = byLabel(
        joiners.filter((leg) => leg.join === 'any'),
        receiverLegLabel,
      );
      const old = [...use.legs, ...joiners].flatMap(({ vlan }) =>
        vlan !== undefined && filtersSources(vlan, use.group) === false ? [vlan] : [],
      );
      const ipv4 = isIPv4(use.group);
      const vlans = byLabel([...new Set(old)], ({ name }) => name).map((vlan) => oldVlan(vlan, ipv4));
      const culprits = [...vlans.map((one) => vlanMark(one, ipv4)), ...any.map(receiverMark)];
      if (!isNonEmpty(culprits)) continue;
      const [at, ...others] = culprits;
      const group = formatAddress(use.group);
      const legs = byLabel(use.legs, legLabel);
      const [first] = vlans;
      yield {
        subject: `${group} in ${use.domain.key}`,
        parties: [...legs.map(legLabel), ...vlans.map(({ vlan }) => vlan.name), ...any.map(receiverLegLabel)],
        cure: () =>
          cure(
            model,
            use.legs,
            vlans.map(({ vlan }) => vlan),
            any,
            ipv4,
          ),
        facts: {
          group,
          where: use.domain.title,
          legs,
          sources: legs.map(({ source }) => (source === undefined ? '' : formatAddress(source))),
          vlans,
          any,
          ipv4,
        },
        at,
        others: [...others, ...legs.map((leg) => mark(leg, legLabel(leg), 'group'))],
        touch:
          first === undefined
            ? { kind: 'device', name: any[0]?.receiver.device.name ?? '' }
            : { kind: 'vlan', name: first.vlan.name },
      };
    }
  },
  words,
});

function oldVlan(vlan: Vlan, ipv4: boolean): OldVlan {
  return { vlan, version: (ipv4 ? vlan.igmp : vlan.mld)?.version };
}

function vlanMark({ vlan, version }: OldVlan, ipv4: boolean): Mark<Note> {
  const management = ipv4 ? vlan.igmp : vlan.mld;
  const label = `VLAN ${vlan.name}`;
  const at = management === undefined ? mark(vlan, label) : mark(management, label, 'version');
  return noted(at, { says: 'too-old', version });
}

function receiverMark(leg: ReceiverLeg): Mark<Note> {
  return noted(mark(leg, receiverLegLabel(leg), 'join'), { says: 'joins-any' });
}

/** VLANs speak the version that filters and receivers join with their source; where the practice is another, groups part. */
function cure(
  model: Model,
  legs: readonly Leg[],
  vlans: readonly Vlan[],
  any: readonly ReceiverLeg[],
  ipv4: boolean,
): Cure {
  const key = ipv4 ? 'igmp' : 'mld';
  const version = ipv4 ? 3 : 2;
  const [keeper] = legs;
  const bound = vlans.some(({ rig }) => (rig.practice.igmpVersion ?? version) !== version);
  const unclear = any.some(({ takes }) => takes?.source === undefined);
  if (unclear) return peopleDecide('which of the senders the receivers want');
  if (bound && ipv4)
    return regroup(
      model,
      legs.filter(({ sender }) => sender !== keeper?.sender),
      { certainty: 'likely' },
    );
  const edits = createEditList();
  for (const vlan of vlans) {
    const settings = vlan[key];
    if (settings === undefined) edits.set(vlan, key, { version });
    else edits.set(settings, 'version', version);
  }
  for (const leg of any) {
    edits.set(leg, 'join', 'stated');
    if (leg.takes?.source !== undefined) edits.set(leg, 'source', formatAddress(leg.takes.source));
  }
  return likely(edits);
}
