import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readXmp, removePlaceFromXmp, writeXmp, writeXmpRating, type XmpCaption } from './xmp.ts';

const seed = 20261125;

/** As a camera or an editor may write it: short and long forms, structures, a namespace nobody knows. */
const elaborate = `<?xpacket begin="\uFEFF" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
 <rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:odd="http://example.org/odd/"
  xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/" xmlns:exif="http://ns.adobe.com/exif/1.0/"
  xmp:Rating="3" photoshop:City="Secretford" exif:GPSLatitude="52,39.4542N" odd:Kept="a &amp; b"/>
 <rdf:Description rdf:about="" xmlns:core="http://purl.org/dc/elements/1.1/"
  xmlns:Iptc4xmpExt="http://iptc.org/std/Iptc4xmpExt/2008-02-29/">
  <core:title><rdf:Alt><rdf:li xml:lang="de">Witwenblume</rdf:li><rdf:li xml:lang="x-default">Scabious</rdf:li></rdf:Alt></core:title>
  <core:subject><rdf:Bag><rdf:li>meadow</rdf:li><rdf:li>dew</rdf:li></rdf:Bag></core:subject>
  <Iptc4xmpExt:LocationShown><rdf:Bag><rdf:li rdf:parseType="Resource"><Iptc4xmpExt:City>Secretford</Iptc4xmpExt:City></rdf:li></rdf:Bag></Iptc4xmpExt:LocationShown>
 </rdf:Description>
</rdf:RDF></x:xmpmeta><?xpacket end="w"?>`;

const written = (caption: Partial<XmpCaption>, existing?: string): string => {
  const result = writeXmp(caption, existing);
  if (!result.ok) throw new Error(result.fault.message);
  return result.value;
};
const read = (packet: string) => {
  const result = readXmp(packet);
  if (!result.ok) throw new Error(result.fault.message);
  return result.value;
};

describe('an XMP packet', () => {
  it('is read in its short and long forms, whatever the prefixes', () => {
    expect(read(elaborate)).toMatchObject({
      title: 'Scabious',
      keywords: ['meadow', 'dew'],
      rating: 3,
      creator: [],
      rights: null,
    });
  });

  it('names the properties of place it holds without saying the place', () => {
    const fields = read(elaborate);
    expect(fields.placeProperties).toEqual(
      expect.arrayContaining(['photoshop:City', 'exif:GPSLatitude', 'Iptc4xmpExt:LocationShown']),
    );
    expect(JSON.stringify(fields)).not.toContain('Secretford');
  });

  it('keeps what it does not know when a caption is written into it', () => {
    const packet = written({ title: 'Small scabious', keywords: [] }, elaborate);
    expect(packet).toContain('odd:Kept="a &amp; b"');
    expect(packet).not.toContain('Witwenblume');
    expect(read(packet)).toMatchObject({ title: 'Small scabious', keywords: [], rating: 3 });
  });

  it('takes a rating in place of another, or none, and keeps all the rest', () => {
    const rated = writeXmpRating(-1, elaborate);
    const unrated = writeXmpRating(null, elaborate);
    if (!rated.ok || !unrated.ok) throw new Error('the packet can be read');
    expect(read(rated.value)).toEqual({ ...read(elaborate), rating: -1 });
    expect(read(unrated.value)).toEqual({ ...read(elaborate), rating: null });
    for (const packet of [rated.value, unrated.value]) {
      expect(packet).toContain('odd:Kept="a &amp; b"');
      expect(packet).toContain('Witwenblume');
    }
    const fresh = writeXmpRating(3);
    expect(fresh.ok && read(fresh.value).rating).toBe(3);
  });

  it('loses every property of place on request, and nothing else', () => {
    const result = removePlaceFromXmp(elaborate);
    if (!result.ok) throw new Error(result.fault.message);
    expect(result.value.packet).not.toMatch(/Secretford|52,39/);
    expect(result.value.removed).toContain('photoshop:City');
    expect(read(result.value.packet)).toMatchObject({
      title: 'Scabious',
      keywords: ['meadow', 'dew'],
      rating: 3,
      placeProperties: [],
    });
    expect(result.value.packet).toContain('odd:Kept');
  });

  it('gives back every caption that was written into it, and is not changed by being written again', () => {
    // Leading and trailing space is not kept by readers of XMP, so captions here have none.
    const text = fc.string({ unit: 'binary', minLength: 1, maxLength: 40 }).map((s) =>
      [...s]
        .filter((c) => c >= ' ' && c !== '\uFFFE' && c !== '\uFFFF')
        .join('')
        .trim(),
    );
    const line = text.filter((s) => s !== '' && !/\s{2}/.test(s));
    const captions = fc.record({
      title: fc.option(line),
      description: fc.option(line),
      creator: fc.array(line, { maxLength: 3 }),
      rights: fc.option(line),
      keywords: fc.array(line, { maxLength: 4 }),
    });
    fc.assert(
      fc.property(captions, fc.boolean(), (caption, onto) => {
        const packet = written(caption, onto ? elaborate : undefined);
        expect(read(packet)).toMatchObject(caption);
        expect(written({}, packet)).toBe(packet);
      }),
      { seed, numRuns: 200 },
    );
  });

  it('is refused with a sentence when it is damaged, holds an entity, or is no XML', () => {
    expect(readXmp('<a><b></a>')).toMatchObject({ ok: false, fault: { found: 'XML damaged at line 1' } });
    const bomb = '<!DOCTYPE a [<!ENTITY b "bbbb">]><a>&b;</a>';
    expect(readXmp(bomb)).toMatchObject({ ok: false, fault: { found: 'a document type declaration' } });
    expect(readXmp('')).toMatchObject({ ok: false });
    expect(readXmp('<a>'.repeat(5000) + '</a>'.repeat(5000))).toMatchObject({ ok: false });
    expect(writeXmp({ title: 'x' }, '<a><b></a>')).toMatchObject({ ok: false });
  });

  it('never makes the reader throw, whatever is changed in it', () => {
    const edits = fc.array(fc.tuple(fc.nat(elaborate.length - 1), fc.string({ maxLength: 3 })), {
      maxLength: 6,
    });
    fc.assert(
      fc.property(edits, (list) => {
        let packet = elaborate;
        for (const [at, text] of list) packet = packet.slice(0, at) + text + packet.slice(at + 1);
        readXmp(packet);
        writeXmp({ title: 'x' }, packet);
        removePlaceFromXmp(packet);
      }),
      { seed, numRuns: 400 },
    );
  });
});
