import { createEditList, likely, peopleDecide, addQueriers } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  mark,
  noted,
  segmentSubject,
  whileUnqueried,
  querierPlaces,
} from '../../../src/doors/rule.js';
import {
  boxTouch,
  citedFor,
  loneQuerier,
  otherQuerierPresentInterval,
  servingSeveralLegs,
} from '../../../src/doors/igmp.js';
import { words, type Facts } from './words.js';

const SOURCES = [clause('RFC 3376', '8.4'), clause('RFC 3376', '8.5'), clause('RFC 3810', '9')];

export default defineRule<Facts, 'only'>({
  id: 'igmp/no-backup-querier',
  summary: 'A redundancy leg has one querier and none to take over',
  severity: 'warning',
  sources: SOURCES,
  needs: ['groups', 'queriers', 'switchPorts'],
  brief: 'no backup querier',
  harm: 'later',
  *check({ model }) {
    // One querier for both legs: `redundancy/common-querier`.
    const elsewhere = servingSeveralLegs(model.groupSegments);
    for (const segment of model.groupSegments) {
      const { domain, protocol, settings } = segment;
      const lone = loneQuerier(segment);
      if (lone?.querier.querier === undefined || elsewhere.has(segment)) continue;
      const { on, vlan, querier } = lone.querier;
      const { fate, assumed, stated } = whileUnqueried(segment);
      yield {
        subject: segmentSubject(segment),
        parties: [...domain.vlans.map(({ name }) => name), ...(on === undefined ? [] : [on.name])],
        confidence: stated ? 'certain' : 'assumed',
        cure: () => {
          const edits = createEditList();
          const main = lone.querier.address;
          const site = querierPlaces(segment, model.addressing).find((one) => one.on !== on);
          const done =
            site !== undefined && main !== undefined && addQueriers(model, edits, vlan, protocol, [site], main);
          return done ? likely(edits) : peopleDecide('which second switch is to query, and from which address');
        },
        facts: {
          protocol,
          where: domain.title,
          querier: on,
          survivors: lone.survivors,
          fate,
          assumed: byLabel(assumed, ({ name }) => name),
          forgottenS: segment.ageing.toS,
          takeoverS: otherQuerierPresentInterval(settings.find((one) => one.vlan === vlan)?.management),
        },
        at: noted(mark(querier, on?.name ?? 'the querier', 'on'), 'only'),
        touch: boxTouch(on, vlan),
        sources: citedFor(protocol, SOURCES),
      };
    }
  },
  words,
});
