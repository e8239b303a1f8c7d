/**
 * XMP packets: the caption and rights of a picture read and written, everything else in the packet kept as it is.
 *
 * @source ISO 16684-1:2019, XMP serialisation in RDF/XML
 */
import { understood, type Result } from '../result.ts';
import {
  childOf,
  childrenOf,
  parseXml,
  textOf,
  writeXml,
  type XmlAttribute,
  type XmlElement,
} from '../xml.ts';
import { xmpNames, xmpNamespaces, xmpPlaceNames, type XmpName } from './xmp-names.ts';

/** What a picture says of itself in words; null or empty where it says nothing. */
export interface XmpCaption {
  readonly title: string | null;
  readonly description: string | null;
  readonly creator: readonly string[];
  readonly rights: string | null;
  readonly keywords: readonly string[];
}

export interface XmpFields extends XmpCaption {
  /** -1 (rejected) to 5; null where there is none. */
  readonly rating: number | null;
  readonly label: string | null;
  /** Lens and focus distance [m], as some cameras and programs write them here. */
  readonly lens: string | null;
  readonly focusDistanceM: number | null;
  /** Names of the properties of place that the packet holds, without what they say: "photoshop:City". */
  readonly placeProperties: readonly string[];
}

const { rdf } = xmpNamespaces;
const is = (node: XmlElement | XmlAttribute, name: Pick<XmpName, 'namespace' | 'local'>) =>
  node.local === name.local && node.namespace === name.namespace;
const isDescription = (element: XmlElement) => is(element, { namespace: rdf, local: 'Description' });

/** The fields of an XMP packet. Refused when it is no XML or holds no RDF. */
export function readXmp(packet: string): Result<XmpFields> {
  const root = parseXml(packet, 'XMP');
  if (!root.ok) return root;
  const descriptions = descriptionsOf(root.value);
  const values = (name: XmpName) => descriptions.flatMap((d) => valuesOf(d, name));
  const one = (name: XmpName) => values(name)[0] ?? null;
  const number = (text: string | null) => {
    const [over, under = '1'] = (text ?? '').split('/');
    const value = Number(over) / Number(under);
    return text !== null && text.trim() !== '' && Number.isFinite(value) ? value : null;
  };
  const distance = number(one(xmpNames.focusDistance));
  const rating = number(one(xmpNames.rating));
  const place = xmpPlaceNames.filter((name) => descriptions.some((d) => holds(d, name)));
  return understood({
    title: one(xmpNames.title),
    description: one(xmpNames.description),
    creator: values(xmpNames.creator),
    rights: one(xmpNames.rights),
    keywords: values(xmpNames.keywords),
    rating: rating !== null && rating >= -1 && rating <= 5 ? rating : null,
    label: one(xmpNames.label),
    lens: one(xmpNames.lens),
    focusDistanceM: distance !== null && distance > 0 && distance < 1e4 ? distance : null,
    placeProperties: place.map((name) => `${name.prefix}:${name.local}`),
  });
}

/**
 * A packet with these captions in it. A field that is not given stays as it was; null or an empty list takes it out.
 * Every other property of an existing packet is kept, known or not.
 *
 * @param existing a packet to change; without one, a new packet
 * @returns refused when the existing packet cannot be read, so that nothing in it is lost
 */
export function writeXmp(caption: Partial<XmpCaption>, existing?: string): Result<string> {
  const root = parseXml(existing ?? EMPTY_PACKET, 'XMP');
  if (!root.ok) return root;
  const given = (Object.keys(kinds) as (keyof XmpCaption)[]).filter((key) => caption[key] !== undefined);
  const names = given.map((key) => xmpNames[key]);
  const cleared = mapDescriptions(root.value, (d) => without(d, names));
  const added = given.flatMap((key) => property(xmpNames[key], kinds[key], caption[key] ?? null));
  if (added.length === 0) return understood(inPacket(cleared));
  let done = false;
  const filled = mapRdf(cleared, (element) => {
    if (done) return element;
    done = true;
    return { ...element, children: [...element.children, description(added)] };
  });
  return understood(inPacket(filled));
}

/**
 * A packet with this rating in it; everything else in it stays, the label too.
 *
 * @param rating -1 (rejected), 0 or 1 to 5; null takes the rating out
 * @param existing a packet to change; without one, a new packet
 * @returns refused when the existing packet cannot be read, so that nothing in it is lost
 * @source ISO 16684-1:2019, xmp:Rating
 */
export function writeXmpRating(rating: number | null, existing?: string): Result<string> {
  const root = parseXml(existing ?? EMPTY_PACKET, 'XMP');
  if (!root.ok) return root;
  const cleared = mapDescriptions(root.value, (d) => without(d, [xmpNames.rating]));
  if (rating === null) return understood(inPacket(cleared));
  let done = false;
  const rated = mapRdf(cleared, (element) => {
    if (done) return element;
    done = true;
    const attributes = [
      attribute('xmlns:rdf', '', rdf),
      attribute('xmlns:xmp', '', xmpNamespaces.xmp),
      attribute('rdf:about', rdf, ''),
      attribute('xmp:Rating', xmpNamespaces.xmp, String(rating)),
    ];
    const own = { name: 'rdf:Description', namespace: rdf, local: 'Description', attributes, children: [] };
    return { ...element, children: [...element.children, own] };
  });
  return understood(inPacket(rated));
}

/** A packet without any property of place, and the names of those that were taken out. */
export function removePlaceFromXmp(packet: string): Result<{ packet: string; removed: readonly string[] }> {
  const root = parseXml(packet, 'XMP');
  if (!root.ok) return root;
  const read = readXmp(packet);
  if (!read.ok) return read;
  const cleared = withoutAnywhere(root.value, xmpPlaceNames);
  return understood({ packet: inPacket(cleared), removed: read.value.placeProperties });
}

const kinds = {
  title: 'Alt',
  description: 'Alt',
  creator: 'Seq',
  rights: 'Alt',
  keywords: 'Bag',
} as const satisfies { readonly [K in keyof XmpCaption]: 'Alt' | 'Seq' | 'Bag' };

const EMPTY_PACKET = `<x:xmpmeta xmlns:x="${xmpNamespaces.x}"><rdf:RDF xmlns:rdf="${rdf}"></rdf:RDF></x:xmpmeta>`;

function inPacket(root: XmlElement): string {
  return `<?xpacket begin="\uFEFF" id="W5M0MpCehiHzreSzNTczkc9d"?>\n${writeXml(root)}\n<?xpacket end="w"?>`;
}

function element(prefix: keyof typeof xmpNamespaces, local: string, parts: Partial<XmlElement>): XmlElement {
  return {
    name: `${prefix}:${local}`,
    namespace: xmpNamespaces[prefix],
    local,
    attributes: parts.attributes ?? [],
    children: parts.children ?? [],
  };
}

const attribute = (name: string, namespace: string, value: string): XmlAttribute => ({
  name,
  namespace,
  local: name.slice(name.indexOf(':') + 1),
  value,
});

/** Prefixes are declared here, so that an existing packet's own use of them does not matter. */
function description(children: readonly XmlElement[]): XmlElement {
  const attributes = [
    attribute('xmlns:rdf', '', rdf),
    attribute('xmlns:dc', '', xmpNamespaces.dc),
    attribute('rdf:about', rdf, ''),
  ];
  return element('rdf', 'Description', { attributes, children });
}

function property(
  name: XmpName,
  kind: 'Alt' | 'Seq' | 'Bag',
  value: string | readonly string[] | null,
): XmlElement[] {
  const texts = value === null ? [] : typeof value === 'string' ? [value] : value;
  if (texts.length === 0) return [];
  const lang =
    kind === 'Alt' ? [attribute('xml:lang', 'http://www.w3.org/XML/1998/namespace', 'x-default')] : [];
  const items = texts.map((text) => element('rdf', 'li', { attributes: lang, children: [text] }));
  return [element('dc', name.local, { children: [element('rdf', kind, { children: items })] })];
}

function descriptionsOf(root: XmlElement): XmlElement[] {
  const found: XmlElement[] = [];
  mapDescriptions(root, (d) => {
    found.push(d);
    return d;
  });
  return found;
}

function valuesOf(description: XmlElement, name: XmpName): string[] {
  const short = description.attributes.filter((a) => is(a, name)).map((a) => a.value.trim());
  const long = childrenOf(description)
    .filter((child) => is(child, name))
    .flatMap((child) => {
      const list = childrenOf(child).find((c) => c.namespace === rdf && c.local in lists);
      if (list === undefined) return [textOf(child)];
      const items = childrenOf(list, 'li');
      if (list.local !== 'Alt') return items.map(textOf);
      const preferred = items.find((li) =>
        li.attributes.some((a) => a.local === 'lang' && a.value === 'x-default'),
      );
      return [textOf(preferred ?? items[0])];
    });
  return [...short, ...long].filter((text) => text !== '');
}

const lists = { Alt: true, Seq: true, Bag: true };

function holds(element: XmlElement, name: XmpName): boolean {
  return (
    element.attributes.some((a) => is(a, name)) ||
    childrenOf(element).some((child) => is(child, name) || holds(child, name))
  );
}

function without(element: XmlElement, names: readonly XmpName[]): XmlElement {
  const named = (node: XmlElement | XmlAttribute) => names.some((name) => is(node, name));
  return {
    ...element,
    attributes: element.attributes.filter((a) => !named(a)),
    children: element.children.filter((child) => typeof child === 'string' || !named(child)),
  };
}

function withoutAnywhere(element: XmlElement, names: readonly XmpName[]): XmlElement {
  const here = without(element, names);
  const children = here.children.map((c) => (typeof c === 'string' ? c : withoutAnywhere(c, names)));
  return { ...here, children };
}

/** Descriptions are those directly inside rdf:RDF; nested ones are structures of a property. */
function mapDescriptions(root: XmlElement, change: (d: XmlElement) => XmlElement): XmlElement {
  return mapRdf(root, (element) => ({
    ...element,
    children: element.children.map((c) => (typeof c !== 'string' && isDescription(c) ? change(c) : c)),
  }));
}

function mapRdf(element: XmlElement, change: (rdfElement: XmlElement) => XmlElement): XmlElement {
  if (is(element, { namespace: rdf, local: 'RDF' })) return change(element);
  const inside = childOf(element, 'RDF');
  if (inside === undefined) return element;
  const children = element.children.map((c) => (c === inside ? mapRdf(inside, change) : c));
  return { ...element, children };
}
