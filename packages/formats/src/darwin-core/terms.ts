/**
 * The terms of Simple Darwin Core, in the standard's order.
 *
 * @source Darwin Core Maintenance Group, Biodiversity Information Standards (TDWG), simple_dwc_vertical.csv of
 *   tdwg/dwc (2026-08), CC BY 4.0
 */
export const darwinCoreTerms: readonly string[] = `
type modified language license rightsHolder accessRights bibliographicCitation references
feedbackURL institutionID collectionID datasetID institutionCode collectionCode ownerInstitutionCode
datasetName basisOfRecord informationWithheld dataGeneralizations dynamicProperties eventID
parentEventID eventCategory eventType fieldNumber eventDate eventTime startDayOfYear endDayOfYear
year month day verbatimEventDate habitat sampledSubstrateCategory sampledSubstrateLayer
samplingProtocol sampleSizeValue sampleSizeUnit samplingEffort fieldNotes eventRemarks locationID
siteNumber higherGeographyID higherGeography continent waterBody islandGroup island country
countryCode stateProvince county municipality locality verbatimLocality minimumElevationInMeters
maximumElevationInMeters verbatimElevation verticalDatum minimumDepthInMeters maximumDepthInMeters
verbatimDepth minimumDistanceAboveSurfaceInMeters maximumDistanceAboveSurfaceInMeters
locationAccordingTo locationRemarks preferredSpatialRepresentation decimalLatitude decimalLongitude
geodeticDatum coordinateUncertaintyInMeters coordinatePrecision pointRadiusSpatialFit
verbatimCoordinates verbatimLatitude verbatimLongitude verbatimCoordinateSystem verbatimSRS
footprintWKT footprintSRS footprintSpatialFit georeferencedBy georeferencedDate georeferenceProtocol
georeferenceSources georeferenceRemarks geologicalContextID earliestEonOrLowestEonothem
latestEonOrHighestEonothem earliestEraOrLowestErathem latestEraOrHighestErathem
earliestPeriodOrLowestSystem latestPeriodOrHighestSystem earliestEpochOrLowestSeries
latestEpochOrHighestSeries earliestAgeOrLowestStage latestAgeOrHighestStage
lowestBiostratigraphicZone highestBiostratigraphicZone lithostratigraphicTerms group formation
member bed identificationID identificationType verbatimIdentification isAcceptedIdentification
taxonFormula identificationQualifier typeStatus identifiedBy identifiedByID dateIdentified
identificationReferences identificationVerificationStatus identificationRemarks materialEntityID
digitalSpecimenID materialEntityCategory materialEntityType discipline typeOfType typifiedName
catalogNumber otherCatalogNumbers recordNumber objectQuantity objectQuantityType preparations
disposition verbatimLabel associatedSequences materialEntityRemarks materialSampleID occurrenceID
recordedBy recordedByID individualCount organismQuantity organismQuantityType sex lifeStage
reproductiveCondition caste behavior vitality establishmentMeans degreeOfEstablishment pathway
georeferenceVerificationStatus occurrenceStatus associatedMedia associatedOccurrences
associatedReferences associatedTaxa occurrenceRemarks organismID organismScope organismName
causeOfDeath associatedOrganisms previousIdentifications organismRemarks taxonID scientificNameID
acceptedNameUsageID parentNameUsageID originalNameUsageID nameAccordingToID namePublishedInID
taxonConceptID scientificName acceptedNameUsage parentNameUsage originalNameUsage nameAccordingTo
namePublishedIn namePublishedInYear higherClassification kingdom phylum class order superfamily
family subfamily tribe subtribe genus genericName subgenus infragenericEpithet specificEpithet
infraspecificEpithet cultivarEpithet taxonRank verbatimTaxonRank scientificNameAuthorship
vernacularName nomenclaturalCode taxonomicStatus nomenclaturalStatus taxonRemarks
`
  .trim()
  .split(/\s+/);

const DWC = 'http://rs.tdwg.org/dwc/terms/';
const DUBLIN_CORE = 'http://purl.org/dc/terms/';

/** Terms that Darwin Core borrows from Dublin Core. */
const borrowed: ReadonlySet<string> = new Set([
  'type',
  'modified',
  'language',
  'license',
  'rightsHolder',
  'accessRights',
  'bibliographicCitation',
  'references',
]);

const byLowerCase = new Map(darwinCoreTerms.map((term) => [term.toLowerCase(), term]));

/** A term as the standard spells it, from any case and with or without its address; null when it is none of them. */
export function darwinCoreTerm(name: string): string | null {
  const local = name.trim().replace(/^.*[/#:]/, '');
  return byLowerCase.get(local.toLowerCase()) ?? null;
}

/** The address of a term of Simple Darwin Core. */
export function darwinCoreAddress(term: string): string {
  return (borrowed.has(term) ? DUBLIN_CORE : DWC) + term;
}
