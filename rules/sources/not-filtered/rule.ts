import {
  byLabel,
  clause,
  defineRule,
  filtersSources,
  formatAddress,
  isIPv4,
  legLabel,
  listNames,
  mark,
  receiverLegLabel,
  toldApartBySource,
  type Leg,
  type ReceiverLeg,
  type Touch,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'sources/not-filtered',
  summary: 'Several sources share a group, and somewhere receivers cannot tell them apart by source',
  severity: 'error',
  sources: [clause('RFC 3376', '1'), clause('RFC 4604', '2.2.3'), clause('RFC 4607', '6'), clause('RFC 3810', '1')],
  needs: ['groups', 'sources'],
  *check({ model }) {
    for (const use of model.groups.shared) {
      if (!toldApartBySource(use)) continue;
      if (new Set(use.legs.map((leg) => leg.sender)).size < 2) continue; // both paths of one stream: receivers merge them
      const joiners = model.reception.joiners(use);
      const any = byLabel(
        joiners.filter((leg) => leg.join === 'any'),
        receiverLegLabel,
      );
      const places = [...use.legs, ...joiners];
      const old = places.flatMap(({ vlan }) =>
        vlan !== undefined && filtersSources(vlan, use.group) === false ? [vlan] : [],
      );
      const vlans = byLabel([...new Set(old)], ({ name }) => name);
      const culprits = [...vlans.map((vlan) => atVlan(vlan, isIPv4(use.group))), ...any.map(atReceiver)];
      const [first, ...rest] = culprits;
      if (first === undefined) continue;
      const group = formatAddress(use.group);
      const legs = byLabel(use.legs, legLabel);
      const names = legs.map(sourceOf);
      yield {
        subject: `${group} in ${use.domain.key}`,
        parties: [...legs.map(legLabel), ...vlans.map(({ name }) => name), ...any.map(receiverLegLabel)],
        what: `group ${group} in ${use.domain.title} has ${legs.length} sources, ${listNames(names)}, but ${listNames(culprits.map(({ what }) => what))}`,
        at: first.mark,
        others: [...rest.map((one) => one.mark), ...legs.map((leg) => mark(leg, legLabel(leg), 'group'))],
        onAir:
          'receivers there get all of the streams at once: pictures break up or freeze, sound is garbled, as soon as the second sender starts',
        fix: `${listNames(remedies(vlans, any, isIPv4(use.group)))}, or give each stream a group of its own`,
        touch: first.touch,
      };
    }
  },
});

function remedies(vlans: readonly Vlan[], any: readonly ReceiverLeg[], ipv4: boolean): readonly string[] {
  return [
    ...(vlans.length > 0
      ? [`set ${ipv4 ? 'IGMP 3' : 'MLD 2'} in ${listNames(vlans.map(({ name }) => `VLAN ${name}`))}`]
      : []),
    ...(any.length > 0
      ? [
          `have ${listNames(any.map(receiverLegLabel))} join the one source ${any.length === 1 ? 'it needs' : 'they need'}`,
        ]
      : []),
  ];
}

interface Culprit {
  readonly what: string;
  readonly mark: ReturnType<typeof mark>;
  readonly touch: Touch;
}

function atVlan(vlan: Vlan, ipv4: boolean): Culprit {
  const management = ipv4 ? vlan.igmp : vlan.mld;
  const protocol = `${ipv4 ? 'IGMP' : 'MLD'} ${management?.version ?? ''}`;
  const label = `VLAN ${vlan.name}: ${protocol} cannot ask for one source`;
  return {
    what: `VLAN ${vlan.name} runs ${protocol}, which cannot ask for one source`,
    mark: management === undefined ? mark(vlan, label) : mark(management, label, 'version'),
    touch: { kind: 'vlan', name: vlan.name },
  };
}

function atReceiver(leg: ReceiverLeg): Culprit {
  return {
    what: `${receiverLegLabel(leg)} joins any source`,
    mark: mark(leg, `${receiverLegLabel(leg)}: joins any source`, 'join'),
    touch: { kind: 'device', name: leg.receiver.device.name },
  };
}

function sourceOf(leg: Leg): string {
  return `${leg.source === undefined ? '' : formatAddress(leg.source)} (${legLabel(leg)})`;
}
