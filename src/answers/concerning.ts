/** The findings of a lint that concern a stream: that name it, its receivers, its hosts, its VLANs or links on its way. */
import type { Finding } from '../lint/finding.js';
import type { Trace } from '../model/explain/index.js';
import { linkLabel } from '../model/vlans/index.js';
import type { Leg, ReceiverLeg } from '../plan/types.js';
import { legLabel, receiverLegLabel } from '../words/labels.js';

/** In the order of the findings. */
export function concerning(traces: readonly Trace[], findings: readonly Finding[]): readonly Finding[] {
  const names = new Set(traces.flatMap(namesOf));
  return findings.filter(({ parties, touch }) => names.has(touch.name) || parties.some((party) => names.has(party)));
}

function namesOf({ sender, legs }: Trace): readonly string[] {
  return [
    sender.label,
    ...legs.flatMap(({ leg, stages, unreached }) => [
      legLabel(leg),
      ...placeNames(leg),
      ...unreached.map(({ receiver }) => receiver.label),
      ...[
        ...stages.flatMap(({ reached }) => reached),
        ...unreached.flatMap(({ receiverLeg }) => receiverLeg ?? []),
      ].flatMap((one) => [one.receiver.label, receiverLegLabel(one), ...placeNames(one)]),
      ...stages.flatMap(({ forwarding, hops }) => [
        ...forwarding.segment.domain.vlans.map(({ name }) => name),
        ...hops.flatMap((hop) => (hop.kind === 'link' ? hop.links.map(linkLabel) : [])),
      ]),
    ]),
  ];
}

function placeNames({ interface: via, vlan }: Leg | ReceiverLeg): readonly string[] {
  return [...(via === undefined ? [] : [`${via.device.name} ${via.name}`]), ...(vlan === undefined ? [] : [vlan.name])];
}
