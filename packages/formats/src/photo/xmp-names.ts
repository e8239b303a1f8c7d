/** The properties of XMP that Tepal knows, by namespace and name. */

/** A property by its namespace address, the prefix it is usually written with, and its local name. */
export interface XmpName {
  readonly namespace: string;
  readonly prefix: string;
  readonly local: string;
}

/** @source ISO 16684-1:2019; IPTC Photo Metadata Standard 2023.2; CIPA DC-010 (EXIF in XMP) */
export const xmpNamespaces = {
  rdf: 'http://www.w3.org/1999/02/22-rdf-syntax-ns#',
  x: 'adobe:ns:meta/',
  dc: 'http://purl.org/dc/elements/1.1/',
  xmp: 'http://ns.adobe.com/xap/1.0/',
  xmpRights: 'http://ns.adobe.com/xap/1.0/rights/',
  photoshop: 'http://ns.adobe.com/photoshop/1.0/',
  exif: 'http://ns.adobe.com/exif/1.0/',
  aux: 'http://ns.adobe.com/exif/1.0/aux/',
  Iptc4xmpCore: 'http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/',
  Iptc4xmpExt: 'http://iptc.org/std/Iptc4xmpExt/2008-02-29/',
} as const;

const name = (prefix: keyof typeof xmpNamespaces, local: string): XmpName => ({
  namespace: xmpNamespaces[prefix],
  prefix,
  local,
});

export const xmpNames = {
  title: name('dc', 'title'),
  description: name('dc', 'description'),
  creator: name('dc', 'creator'),
  rights: name('dc', 'rights'),
  keywords: name('dc', 'subject'),
  rating: name('xmp', 'Rating'),
  label: name('xmp', 'Label'),
  focusDistance: name('aux', 'ApproximateFocusDistance'),
  lens: name('aux', 'Lens'),
} as const;

/**
 * Every property of place in XMP: where the camera was, what is shown, and the legacy text fields. A writer that must
 * not give a place away leaves all of these out.
 *
 * @source FS 8.5; IPTC Photo Metadata Standard 2023.2, Core and Extension; CIPA DC-010, GPS
 */
export const xmpPlaceNames: readonly XmpName[] = [
  ...[
    'GPSVersionID',
    'GPSLatitude',
    'GPSLongitude',
    'GPSAltitudeRef',
    'GPSAltitude',
    'GPSTimeStamp',
    'GPSSatellites',
    'GPSStatus',
    'GPSMeasureMode',
    'GPSDOP',
    'GPSSpeedRef',
    'GPSSpeed',
    'GPSTrackRef',
    'GPSTrack',
    'GPSImgDirectionRef',
    'GPSImgDirection',
    'GPSMapDatum',
    'GPSDestLatitude',
    'GPSDestLongitude',
    'GPSDestBearingRef',
    'GPSDestBearing',
    'GPSDestDistanceRef',
    'GPSDestDistance',
    'GPSProcessingMethod',
    'GPSAreaInformation',
    'GPSDifferential',
    'GPSHPositioningError',
  ].map((local) => name('exif', local)),
  ...['City', 'State', 'Country'].map((local) => name('photoshop', local)),
  ...['Location', 'CountryCode'].map((local) => name('Iptc4xmpCore', local)),
  ...[
    'LocationCreated',
    'LocationShown',
    'Sublocation',
    'City',
    'ProvinceState',
    'CountryName',
    'CountryCode',
    'WorldRegion',
    'LocationName',
    'LocationId',
  ].map((local) => name('Iptc4xmpExt', local)),
];
