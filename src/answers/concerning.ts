/** The findings of a lint that concern a stream: that name it, its receivers, their hosts and ports, or what is on its way. */
import type { Finding } from '../lint/finding.js';
import type { LegTrace, Trace } from '../model/explain/index.js';
import { linkLabel, portLabel } from '../model/vlans/index.js';
import type { Leg, ReceiverLeg } from '../plan/types.js';
import { legLabel, receiverLegLabel } from '../words/labels.js';

/** In the order of the findings. */
export function concerning(traces: readonly Trace[], findings: readonly Finding[]): readonly Finding[] {
  const names = new Set(traces.flatMap(namesOf));
  // A box is touched for many streams, and a party where it is at fault as a whole.
  const boxes = new Set(traces.flatMap(boxesOf));
  return findings.filter(
    ({ parties, touch }) => names.has(touch.name) || parties.some((party) => names.has(party) || boxes.has(party)),
  );
}

function boxesOf({ legs }: Trace): readonly string[] {
  return [...legs.map(({ leg }) => leg), ...legs.flatMap(takersOf)].flatMap(({ interface: via }) =>
    via === undefined ? [] : [via.device.name, ...(via.port === undefined ? [] : [portLabel(via.port)])],
  );
}

function takersOf({ stages, unreached }: LegTrace): readonly ReceiverLeg[] {
  return [...stages.flatMap(({ reached }) => reached), ...unreached.flatMap(({ receiverLeg }) => receiverLeg ?? [])];
}

function namesOf({ sender, legs }: Trace): readonly string[] {
  return [
    sender.label,
    ...legs.flatMap((trace) => [
      legLabel(trace.leg),
      ...placeNames(trace.leg),
      ...trace.unreached.map(({ receiver }) => receiver.label),
      ...takersOf(trace).flatMap((one) => [one.receiver.label, receiverLegLabel(one), ...placeNames(one)]),
      ...trace.stages.flatMap(({ forwarding, hops }) => [
        ...forwarding.segment.domain.vlans.map(({ name }) => name),
        ...hops.flatMap((hop) => (hop.kind === 'link' ? hop.links.map(linkLabel) : [])),
      ]),
    ]),
  ];
}

function placeNames({ interface: via, vlan }: Leg | ReceiverLeg): readonly string[] {
  return [...(via === undefined ? [] : [`${via.device.name} ${via.name}`]), ...(vlan === undefined ? [] : [vlan.name])];
}
