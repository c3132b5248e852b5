/** What each single failure takes: ranking, reports, what could not be judged. */
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { createModel } from '../../src/model/model.js';
import { buildFailureTable, takesOffAir } from '../../src/model/explain/failure-table.js';
import { readInputs } from '../../src/edge/files.js';
import { reportFailuresCsv, reportFailuresText } from '../../src/reporters/failures.js';
import { modelOf, DUNLIN_SMALL } from '../tools/network-plans.js';
import { HERON, PLAIN, HERON_SMALL, resultOf, asked } from '../tools/failure-texts.js';

describe('whole reports', () => {
  const small = modelOf(HERON_SMALL);

  it('a small rig', () => {
    expect(`\n${reportFailuresText(resultOf(small), PLAIN)}`).toMatchInlineSnapshot(`
      "
      IF ONE THING FAILS, WORST FIRST
      -------------------------------
      RANK  LOST  IN PART  ONE LEG  NO QUERIER  WHAT FAILS
         1     2        0        0           0  power feed start-mains
              lost: cam-11/video and cam-12/video
         2     1        1        1           1  switch red-core
              lost: cam-12/video
              in part: cam-11/video
              no querier: red-video (210)
         3     1        1        1           0  switch red-start
              lost: cam-12/video
              in part: cam-11/video
         4     1        0        1           0  interface vision red
              lost: cam-12/video
         5     1        0        0           0  device cam-11
              lost: cam-11/video
         6     1        0        0           0  device cam-12
              lost: cam-12/video
         7     1        0        0           0  interface cam-12 red
              lost: cam-12/video
         8     0        1        1           0  interface cam-11 red
              in part: cam-11/video
         9     0        1        0           0  interface backup red
              in part: cam-11/video
        10     0        0        1           1  switch blue-core
              no querier: blue-video (310)
        11     0        0        0           0  link R1
              overloads: R2 with at least 4.46 Gbit/s of 1 Gbit/s; R3 with at least 4.46 Gbit/s
               of 1 Gbit/s

      Judged       2 streams as 3 receivers take them
      Besides      6 more take nothing from what still stands: one leg of two, or their own
                   inputs (--all shows them)
      Not taken    1 stream that no receiver of the plan takes: cam-12/spare
      Read as      numbers count streams: LOST to every receiver still standing, IN PART to some
                   of them, ONE LEG kept with a leg less. NO QUERIER counts VLANs nobody queries
                   any more; what receivers lose when memberships end is told with the seconds
                   until then

      Not counted  1 stream leg without a known rate: overloads are at least what is said, and
                   more links may be overloaded
      Not judged   1 stream (cam-13/video): the interface of the sender is not known. To have it
                   judged, name the \`interface\` of each leg.
                   a leg or receiver of 1 stream (cam-11/video): the switch port of the receiver
                   is not known. To have it judged, give the interface a \`port\` that carries its
                   VLAN: \`leaf-a/12\`.
                   1 receiver (backup/any): a receiver names a group and not the stream it
                   takes. To have it judged, give the receiver \`takes: device/sender\`.
      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });

  it('everything, narrow', () => {
    expect(`\n${reportFailuresText(resultOf(small, { all: true }), { ...PLAIN, width: 50 })}`).toMatchInlineSnapshot(`
      "
      IF ONE THING FAILS, WORST FIRST
      -------------------------------
         1  power feed start-mains
              lost: 2 streams, cam-11/video and
               cam-12/video
         2  switch red-core
              lost: 1 stream, cam-12/video
              in part: 1 stream, cam-11/video
              one leg: 1 stream
              no querier: red-video (210)
         3  switch red-start
              lost: 1 stream, cam-12/video
              in part: 1 stream, cam-11/video
              one leg: 1 stream
         4  interface vision red
              lost: 1 stream, cam-12/video
              one leg: 1 stream
         5  device cam-11
              lost: 1 stream, cam-11/video
         6  device cam-12
              lost: 1 stream, cam-12/video
         7  interface cam-12 red
              lost: 1 stream, cam-12/video
         8  interface cam-11 red
              in part: 1 stream, cam-11/video
              one leg: 1 stream
         9  interface backup red
              in part: 1 stream, cam-11/video
        10  switch blue-core
              one leg: 1 stream
              no querier: blue-video (310)
        11  link R1
              overloads: R2 with at least 4.46 Gbit/s
               of 1 Gbit/s; R3 with at least 4.46 Gbit/s
               of 1 Gbit/s
        12  interface cam-11 blue
              one leg: 1 stream
        13  interface vision blue
              one leg: 1 stream
        14  link B1
              one leg: 1 stream
        15  switch blue-start
              one leg: 1 stream
        16  device backup
              own inputs: 1 stream
        17  device vision
              own inputs: 2 streams

      Judged  2 streams as 3 receivers take them
      Not taken  1 stream that no receiver of the plan
         takes: cam-12/spare
      Read as  numbers count streams: LOST to every
         receiver still standing, IN PART to some of
         them, ONE LEG kept with a leg less. NO QUERIER
         counts VLANs nobody queries any more; what
         receivers lose when memberships end is told
         with the seconds until then

      Not counted  1 stream leg without a known rate:
         overloads are at least what is said, and more
         links may be overloaded
      Not judged  1 stream (cam-13/video): the interface
         of the sender is not known. To have it judged,
         name the \`interface\` of each leg.
         a leg or receiver of 1 stream (cam-11/video):
         the switch port of the receiver is not known.
         To have it judged, give the interface a \`port\`
         that carries its VLAN: \`leaf-a/12\`.
         1 receiver (backup/any): a receiver names a
         group and not the stream it takes. To have it
         judged, give the receiver \`takes:
         device/sender\`.
      Caution  A clean result is a check on paper, not
         proof for air. Safety intercom and public
         address follow local codes and competent
         testing.
      "
    `);
  });

  it('one element in full', () => {
    expect(`\n${reportFailuresText(asked(small, 'red-core', 'R1', 'ups-a'), PLAIN)}`).toMatchInlineSnapshot(`
      "
      IF switch red-core FAILS
      ------------------------
      Rank         2 of 17
      Lost         1 stream
                   cam-12/video at vision/in-12
      In part      1 stream
                   cam-11/video at backup/in-11
      One leg      1 stream
                   cam-11/video at vision/in-11
      No querier   red-video (210): memberships end within 270 s

      IF link R1 FAILS
      ----------------
      Rank         11 of 17
      Lost         none
      In part      none
      One leg      none
      No querier   none
      Overloads    R2 with at least 4.46 Gbit/s of 1 Gbit/s; R3 with at least 4.46 Gbit/s of
                   1 Gbit/s

      IF power feed ups-a FAILS
      -------------------------
      Lost         nothing, and nothing is weakened, as far as the plan can be judged

      Not counted  1 stream leg without a known rate: overloads are at least what is said, and
                   more links may be overloaded
      Not judged   1 stream (cam-13/video): the interface of the sender is not known. To have it
                   judged, name the \`interface\` of each leg.
                   a leg or receiver of 1 stream (cam-11/video): the switch port of the receiver
                   is not known. To have it judged, give the interface a \`port\` that carries its
                   VLAN: \`leaf-a/12\`.
                   1 receiver (backup/any): a receiver names a group and not the stream it
                   takes. To have it judged, give the receiver \`takes: device/sender\`.
      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });

  it('a spreadsheet', () => {
    expect(reportFailuresCsv(resultOf(small)).replaceAll('\r\n', '\n')).toMatchInlineSnapshot(`
      ""rank","kind","element","streams lost","streams lost in part","streams on one leg","streams lost later","seconds until then","VLANs without querier","links overloaded","of them at least","names lost","names lost in part","names lost later","names without querier","names overloaded"
      1,"power feed","start-mains",2,0,0,0,0,0,0,0,"cam-11/video and cam-12/video","","","",""
      2,"switch","red-core",1,1,1,0,0,1,0,0,"cam-12/video","cam-11/video","","red-video",""
      3,"switch","red-start",1,1,1,0,0,0,0,0,"cam-12/video","cam-11/video","","",""
      4,"interface","vision red",1,0,1,0,0,0,0,0,"cam-12/video","","","",""
      5,"device","cam-11",1,0,0,0,0,0,0,0,"cam-11/video","","","",""
      6,"device","cam-12",1,0,0,0,0,0,0,0,"cam-12/video","","","",""
      7,"interface","cam-12 red",1,0,0,0,0,0,0,0,"cam-12/video","","","",""
      8,"interface","cam-11 red",0,1,1,0,0,0,0,0,"","cam-11/video","","",""
      9,"interface","backup red",0,1,0,0,0,0,0,0,"","cam-11/video","","",""
      10,"switch","blue-core",0,0,1,0,0,1,0,0,"","","","blue-video",""
      11,"link","R1",0,0,0,0,0,0,2,2,"","","","","R2 and R3"
      ,"not judged","the interface of the sender is not known",,,,,,,,,"cam-13/video",,,,
      ,"not judged","the switch port of the receiver is not known",,,,,,,,,,"cam-11/video",,,
      ,"not judged","a receiver names a group and not the stream it takes: backup/any",,,,,,,,,,,,,
      ,"not counted","1 stream leg without a known rate: more links may be overloaded",,,,,,,,,,,,,
      "
    `);
  });

  it('an unreadable plan', () => {
    const { problems } = loadPlan([{ name: 'plan.yaml', text: 'devices: 3\n' }]);
    expect(`\n${reportFailuresText({ table: undefined, problems, all: false }, PLAIN)}`).toMatchInlineSnapshot(`
      "
      INPUT THAT COULD NOT BE READ
      ----------------------------

      UNREAD    \`devices\` is \`3\`, not a list
        Do      write a list, each entry on a line that starts with \`- \`. Devices.
        Where   plan.yaml 1:10

      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });
});

describe('the table', () => {
  it('Kestrel Bay: no switch, link, risk or feed takes a stream off air, boxes only their own', () => {
    const table = buildFailureTable(createModel(loadPlan(readInputs([HERON]).inputs).plan));
    const kinds = new Set(table.rows.filter(takesOffAir).map(({ element }) => element.kind));
    expect([...kinds]).toEqual(['device']);
    for (const row of table.rows.filter(takesOffAir)) {
      for (const { sender } of [...row.lostEverywhere, ...row.lostInPart])
        expect(sender.device?.name).toBe(row.element.name);
    }
    expect(table.unjudged).toEqual([]);
  });

  it('is the failure model told by streams: every reception stands in exactly one list', () => {
    for (const plan of [HERON_SMALL, DUNLIN_SMALL]) {
      const model = modelOf(plan);
      const table = buildFailureTable(model);
      for (const { element, lost, weakened } of model.failures.ranked) {
        const row = table.rows.find((one) => one.element === element);
        const names = (
          lists: readonly {
            readonly sender: { readonly label: string };
            readonly receivers: readonly { readonly label: string }[];
          }[],
        ): readonly string[] =>
          lists
            .flatMap(({ sender, receivers }) => receivers.map((receiver) => `${sender.label} ${receiver.label}`))
            .sort();
        const told = (list: typeof lost): readonly string[] =>
          list.map(({ sender, receiver }) => `${sender.label} ${receiver.label}`).sort();
        expect(names([...(row?.lostEverywhere ?? []), ...(row?.lostInPart ?? []), ...(row?.withIt ?? [])])).toEqual(
          told(lost),
        );
        expect(names(row?.fewerLegs ?? [])).toEqual(told(weakened));
      }
    }
  });

  it('ranks by streams lost everywhere, then in part, whatever the order of the plan', () => {
    const rows = buildFailureTable(modelOf(DUNLIN_SMALL)).rows.map(
      (row) => [row.lostEverywhere.length, row.lostInPart.length] as const,
    );
    expect(rows).toEqual([...rows].sort(([a, b], [c, d]) => c - a || d - b));
  });
});
