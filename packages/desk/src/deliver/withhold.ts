/** What a picture holds of its place and of its owner, and what is left out of a delivery, by which rule. */

interface Rule {
  readonly what: string;
  readonly holds: RegExp;
}

/** By group and name as ExifTool gives them. */
const ofPlace: readonly Rule[] = [
  {
    what: 'coordinates',
    holds: /^(GPS|XMP-exif:GPS|Composite:GPS|XMP-dwc:(Decimal|Verbatim)?(Latitude|Longitude|Coord))/,
  },
  {
    what: 'location created and shown',
    holds: /:(Location(Created|Shown)|LocationCreated.*|LocationShown.*|ContentLocationName|Location)$/,
  },
  { what: 'city', holds: /:City$/ },
  { what: 'sublocation', holds: /:Sub-?location$/i },
  { what: 'state or province', holds: /:(State|Province-State)$/ },
  { what: 'country', holds: /:(Country|CountryCode|Country-Primary.*)$/ },
];

const always: readonly Rule[] = [
  {
    what: 'maker notes',
    holds:
      /^(MakerNotes|ExifIFD:MakerNote|Canon|CanonCustom|Nikon|NikonCustom|Sony|Olympus|Panasonic|Pentax|FujiFilm|Ricoh|Casio|Sigma|Samsung|Apple|Minolta|Kodak|Leica)[^:]*:/,
  },
  {
    what: 'embedded previews',
    holds: /:(ThumbnailImage|PreviewImage|JpgFromRaw|OtherImage|MPImage\d*|PhotoshopThumbnail)$/,
  },
  { what: 'serial numbers and owner', holds: /:(.*SerialNumber|OwnerName|CameraOwnerName)$/ },
  {
    what: 'caption and title of the original',
    holds: /:(ImageDescription|Caption-Abstract|Description|Title|ObjectName|UserComment|Headline)$/,
  },
  { what: 'keywords of the original', holds: /:(Keywords|Subject|HierarchicalSubject)$/ },
];

/**
 * @param tags of the original, by group and name
 * @param placeRule why fields of place are left out; null where they were released
 * @returns sentences for `withheld`, one for each kind that is there
 */
export function withheldFrom(tags: Readonly<Record<string, unknown>>, placeRule: string | null): string[] {
  const names = Object.keys(tags);
  const there = (rules: readonly Rule[]) =>
    rules.filter(({ holds }) => names.some((name) => holds.test(name))).map(({ what }) => what);
  const place = there(ofPlace).map((what) =>
    placeRule === null
      ? `${what} of the original: replaced by the place as released`
      : `${what}: ${placeRule}`,
  );
  const rest = there(always).map(
    (what) => `${what}: never delivered, for they may name the place or its owner`,
  );
  return [...place, ...rest];
}
