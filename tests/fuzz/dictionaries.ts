/** Words of each format, from its specification, and of the site's own attributes. */
const words = (text: string): string[] => text.split(/\s+/).filter((word) => word !== "");

const SITE = words(`role name height_m diameter_m soil_radius_m setin_m width_m loop edge yes no
  lawn bed water gravel paving building firm tree keep-out station outlet control ignore wall fence
  hedge kerb flush drop open landuse=grass`);

export const JSON_WORDS = [
  ...SITE,
  ...words(`type features Feature FeatureCollection geometry geometries properties coordinates Point
    MultiPoint LineString MultiLineString Polygon MultiPolygon GeometryCollection crs bbox id null
    true false link urn:ogc:def:crs:EPSG::27700 EPSG:3857 urn:ogc:def:crs:OGC:1.3:CRS84 Topology
    arcs objects`),
  '"',
  "\u001e",
];

export const XML_WORDS = [
  ...SITE,
  ...words(`kml Document Folder Placemark name Polygon outerBoundaryIs innerBoundaryIs LinearRing
    LineString Point MultiGeometry coordinates altitudeMode Style StyleMap Pair key styleUrl
    Schema SimpleField ExtendedData SchemaData SimpleData Data value gx:Track gx:MultiTrack gx:coord
    when NetworkLink GroundOverlay LatLonBox gx:LatLonQuad TimeStamp gpx wpt rte rtept trk trkseg
    trkpt lat lon ele time extensions xmlns encoding`),
  '<?xml version="1.0" encoding="utf-16"?>',
  "<!DOCTYPE kml [",
  '<!ENTITY a "b">',
  "&a;",
  "&#0;",
  "&#x110000;",
  "<![CDATA[",
  "/>",
];

export const WKT_WORDS = [
  ...words(`PROJCS GEOGCS PROJCRS GEOGCRS BASEGEOGCRS COMPD_CS COMPOUNDCRS BOUNDCRS VERTCRS GEOCCS
    LOCAL_CS ENGCRS DATUM SPHEROID ELLIPSOID TOWGS84 PRIMEM UNIT LENGTHUNIT ANGLEUNIT SCALEUNIT
    PROJECTION METHOD CONVERSION PARAMETER AXIS ORDER CS AUTHORITY ID Cartesian ellipsoidal north
    east south Transverse_Mercator Lambert_Conformal_Conic_2SP Hotine_Oblique_Mercator Krovak
    Mercator_Auxiliary_Sphere Polar_Stereographic False_Easting Scale_Factor Central_Meridian
    Standard_Parallel_1 Latitude_Of_Origin metre degree grad foot_us ABRIDGEDTRANSFORMATION
    GEODCRS EPSG 4326 +proj=utm +proj=tmerc +proj=lcc +proj=omerc +proj=krovak +proj=pipeline
    +proj=longlat +towgs84=1,2,3,4,5,6,7 +nadgrids=@null +units=us-ft +to_meter=0 +pm=paris
    +axis=neu +ellps=bessel +a=0 +b=0 +rf=0 +R=1 +k=0 +lat_0=90 +lat_1=0 +lat_2=0 +zone=61 +init=`),
  '"',
  "]",
];

export const DXF_WORDS = [
  ...SITE,
  ...words(`SECTION ENDSEC EOF HEADER TABLES BLOCKS ENTITIES CLASSES OBJECTS TABLE ENDTAB LAYER BLOCK
    ENDBLK LINE LWPOLYLINE POLYLINE VERTEX SEQEND ARC CIRCLE ELLIPSE SPLINE HATCH INSERT POINT SOLID
    TEXT MTEXT DIMENSION 3DFACE REGION XLINE $INSUNITS $ACADVER $DWGCODEPAGE AC1009 AC1032 ANSI_1252
    *Model_Space *U1 TREE LEAF AutoCAD`),
];

export const TABLE_WORDS = [
  ...SITE,
  ...words(`number easting northing e n x y lon lat longitude latitude height code control rechtswert
    hochwert Easting(ft) E(mm) # LAWN1 WALL2 ST BEG END CL CLOSE ARC BC EC PC PT C S E A TREE STATION
    51°30'36"N 1,234.56 1.234,56 500000,5 ; , |`),
  "\t",
  '"',
  '""',
  "\n",
];

export const SITE_FILE_WORDS = [
  ...SITE,
  ...words(`name inputs file out crs profile based_on small medium large lawns names field is at_least
    at_most least_area_m2 inside nearest at count roles layer geometry area line point role set edges
    beside station outlet parts own carried none lawn_per_wire_m2 split setin_m edges things repair
    join_gap_m sliver_width_m overhang_m same_share spike_width_m line_gap_m chord_tolerance_m far_m
    survey_codes start end close arc arc_start arc_end points prices currency tax_rate items per
    unit_price json quiet $schema EPSG:27700 EPSG:0 all // /* */ passage drive_min_m mow_min_m
    report_below_m pegs spacing_max_m wander_max_m spare_share wire pair_gap_m loop area_max_m2
    length_max_m corners guide label note`),
];

export const GRID_WORDS = words(`ncols nrows xllcorner yllcorner xllcenter yllcenter cellsize dx dy
  NODATA_value -9999 nan 1.#QNAN inf 1e308 1e-300 4294967296 0 -1 20,5 ;`);

export const PLAN_WORDS = words(`kind boundary-wire exclusion-loop paired-run peg passage mown-area
  cut-off-area hand-trim finding guide-wire length_m direction anticlockwise clockwise number
  chainage_m second_chainage_m on straight bend pair bearing_deg given width_m wire_width_m verdict
  mow drive shut beyond_m2 area_m2 part reason from to A B A1`);
