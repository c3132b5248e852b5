import { createEditList, likely, peopleDecide, type Cure, setOnVlan } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupsOf,
  legLabel,
  mapAll,
  mark,
  noted,
  ownerLabel,
  receiverLegLabel,
  segmentSubject,
  type FindingDraft,
  type Vlan,
} from '../../../src/doors/rule.js';
import {
  citedFor,
  hasSourceSpecificGroup,
  oldHosts,
  oldVersions,
  protocolName,
  settingMark,
  type OldHost,
} from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

const REFUSED = clause('RFC 4607', '5.2');
const OF_VLAN = [clause('RFC 4604', '2.2.3'), REFUSED, clause('RFC 3376', '7.2.1'), clause('RFC 3810', '8.2.1')];
const OF_HOST = [clause('RFC 2236', '2'), clause('RFC 2710', '3'), REFUSED];

export default defineRule<Facts, Note>({
  id: 'igmp/version-too-old',
  summary: 'Source-specific joins are planned where the IGMP or MLD version knows no sources',
  severity: 'error',
  sources: [...OF_VLAN, ...OF_HOST.filter((one) => one !== REFUSED)],
  needs: ['groups', 'groupVersions'],
  brief: 'version knows no sources',
  explains: ['refused join'],
  *check({ plan, model }) {
    for (const one of oldHosts(plan, model.groupSegments, model.domains, model.groups)) yield hostFinding(one);
    for (const { segment, ...found } of oldVersions(model.groupSegments, model.domains, model.groups)) {
      const { domain, protocol } = segment;
      const old = byLabel(found.settings, ({ vlan }) => vlan.name);
      const [at, ...rest] = mapAll(old, (one) => noted(settingMark(one, 'version'), { version: one.version }));
      const legs = byLabel(found.legs, legLabel);
      const receivers = byLabel(found.receivers, receiverLegLabel);
      const refused = legs.length > 0 || receivers.some(hasSourceSpecificGroup);
      yield {
        subject: segmentSubject(segment),
        parties: [...old.map(({ vlan }) => vlan.name), ...legs.map(legLabel), ...receivers.map(receiverLegLabel)],
        severity: refused ? 'error' : 'warning',
        cure: () => cure(protocol, domain.vlans),
        facts: {
          form: 'vlan',
          protocol,
          where: domain.title,
          vlans: domain.vlans,
          old: mapAll(old, ({ vlan, version }) => ({ vlan, version })),
          legs,
          groups: groupsOf(legs).map(formatAddress),
          receivers,
          refused,
        },
        at,
        others: [
          ...rest,
          ...legs.map((leg) => noted(mark(leg, legLabel(leg), 'group'), 'sends')),
          ...receivers.map((leg) =>
            noted(mark(leg, receiverLegLabel(leg), leg.source === undefined ? 'join' : 'source'), 'joins'),
          ),
        ],
        touch: { kind: 'vlan', name: old[0].vlan.name },
        sources: citedFor(protocol, OF_VLAN),
      };
    }
  },
  words,
});

function hostFinding({ host, protocol, version, receivers }: OldHost): FindingDraft<Facts, Note> {
  const takers = byLabel(receivers, receiverLegLabel);
  const name = ownerLabel(host);
  const refused = takers.some(hasSourceSpecificGroup);
  return {
    subject: `${protocolName(protocol)} of ${name}`,
    parties: [name, ...takers.map(receiverLegLabel)],
    severity: refused ? 'error' : 'warning',
    cure: () => {
      const edits = createEditList();
      edits.set(host, protocol === 'igmp' ? 'igmpVersion' : 'mldVersion', FILTERS[protocol]);
      return likely(edits);
    },
    facts: { form: 'host', protocol, host, version, receivers: takers, refused },
    at: noted(mark(host, name, protocol === 'igmp' ? 'igmpVersion' : 'mldVersion'), { version }),
    others: takers.map((leg) =>
      noted(mark(leg, receiverLegLabel(leg), leg.source === undefined ? 'join' : 'source'), 'joins'),
    ),
    touch: { kind: 'device', name: host.device.name },
    sources: citedFor(protocol, OF_HOST),
  };
}

/** The version that asks for sources (RFC 3376 §4.2, RFC 3810 §5.2). */
const FILTERS = { igmp: 3, mld: 2 } as const;

/** All entries of the VLAN speak it, unless the rig has stated that it speaks an older one. */
function cure(protocol: 'igmp' | 'mld', vlans: readonly Vlan[]): Cure {
  const version = FILTERS[protocol];
  if (protocol === 'igmp' && vlans.some(({ rig }) => (rig.practice.igmpVersion ?? version) !== version))
    return peopleDecide('whether the practice changes or the streams go to any-source groups');
  const edits = createEditList();
  for (const vlan of vlans) setOnVlan(edits, vlan, protocol, { version });
  return likely(edits);
}
