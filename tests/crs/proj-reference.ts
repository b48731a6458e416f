/**
 * Positions in national systems, made with PROJ 9.1.1 (EPSG dataset v10.076, no grid files chosen):
 *
 *     echo "LAT LON" | cs2cs -f "%.5f" EPSG:4326 EPSG:CODE
 *
 * and the systems' definitions in ESRI's dialect of WKT, as a .prj holds them, made with GDAL 3.6.2:
 *
 *     gdalsrsinfo -o wkt_esri --single-line EPSG:CODE
 *
 * `x` is the easting (cs2cs gives northing first for 2193 and 3346) and `y` the northing, in the system's own unit.
 */
export interface ProjReference {
  readonly epsg: number;
  readonly lonDeg: number;
  readonly latDeg: number;
  readonly x: number;
  readonly y: number;
  readonly esriWkt?: string;
}

export const PROJ_REFERENCES: readonly ProjReference[] = [
  {
    epsg: 27700,
    lonDeg: -0.12,
    latDeg: 51.5,
    x: 530591.1664,
    y: 179571.06538,
    esriWkt:
      'PROJCS["British_National_Grid",GEOGCS["GCS_OSGB_1936",DATUM["D_OSGB_1936",SPHEROID["Airy_1830",6377563.396,299.3249646]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",400000.0],PARAMETER["False_Northing",-100000.0],PARAMETER["Central_Meridian",-2.0],PARAMETER["Scale_Factor",0.9996012717],PARAMETER["Latitude_Of_Origin",49.0],UNIT["Meter",1.0]]',
  },
  {
    epsg: 2278,
    lonDeg: -95.4,
    latDeg: 29.7,
    x: 3111197.83071,
    y: 13819651.72652,
    esriWkt:
      'PROJCS["NAD_1983_StatePlane_Texas_South_Central_FIPS_4204_Feet",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",1968500.0],PARAMETER["False_Northing",13123333.333],PARAMETER["Central_Meridian",-99.0],PARAMETER["Standard_Parallel_1",30.2833333333333],PARAMETER["Standard_Parallel_2",28.3833333333333],PARAMETER["Latitude_Of_Origin",27.8333333333333],UNIT["US survey foot",0.304800609601219]]',
  },
  { epsg: 2263, lonDeg: -73.95, latDeg: 40.7, x: 998114.04064, y: 194309.2957 },
  { epsg: 32140, lonDeg: -95.4, latDeg: 29.7, x: 948294.99539, y: 4212238.27082 },
  {
    epsg: 2154,
    lonDeg: 2.35,
    latDeg: 48.85,
    x: 652301.56483,
    y: 6861302.7259,
    esriWkt:
      'PROJCS["RGF_1993_Lambert_93",GEOGCS["GCS_RGF_1993",DATUM["D_RGF_1993",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",700000.0],PARAMETER["False_Northing",6600000.0],PARAMETER["Central_Meridian",3.0],PARAMETER["Standard_Parallel_1",49.0],PARAMETER["Standard_Parallel_2",44.0],PARAMETER["Latitude_Of_Origin",46.5],UNIT["Meter",1.0]]',
  },
  { epsg: 25832, lonDeg: 8.7, latDeg: 50.1, x: 478544.5238, y: 5549792.34837 },
  {
    epsg: 32633,
    lonDeg: 13.4,
    latDeg: 52.5,
    x: 391390.73134,
    y: 5817855.24082,
    esriWkt:
      'PROJCS["WGS_1984_UTM_Zone_33N",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",15.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]',
  },
  {
    epsg: 2056,
    lonDeg: 8.0,
    latDeg: 47.0,
    x: 2642695.42015,
    y: 1205590.52229,
    esriWkt:
      'PROJCS["CH1903+_LV95",GEOGCS["GCS_CH1903+",DATUM["D_CH1903+",SPHEROID["Bessel_1841",6377397.155,299.1528128]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Hotine_Oblique_Mercator_Azimuth_Center"],PARAMETER["False_Easting",2600000.0],PARAMETER["False_Northing",1200000.0],PARAMETER["Scale_Factor",1.0],PARAMETER["Azimuth",90.0],PARAMETER["Longitude_Of_Center",7.43958333333333],PARAMETER["Latitude_Of_Center",46.9524055555556],UNIT["Meter",1.0]]',
  },
  {
    epsg: 28992,
    lonDeg: 5.1,
    latDeg: 52.1,
    x: 135321.21813,
    y: 456900.42815,
    esriWkt:
      'PROJCS["RD_New",GEOGCS["GCS_Amersfoort",DATUM["D_Amersfoort",SPHEROID["Bessel_1841",6377397.155,299.1528128]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Double_Stereographic"],PARAMETER["False_Easting",155000.0],PARAMETER["False_Northing",463000.0],PARAMETER["Central_Meridian",5.38763888888889],PARAMETER["Scale_Factor",0.9999079],PARAMETER["Latitude_Of_Origin",52.1561605555556],UNIT["Meter",1.0]]',
  },
  { epsg: 31370, lonDeg: 4.35, latDeg: 50.85, x: 148679.44738, y: 171066.81033 },
  {
    epsg: 2193,
    lonDeg: 174.8,
    latDeg: -41.3,
    x: 1750697.52133,
    y: 5426376.62317,
    esriWkt:
      'PROJCS["NZGD_2000_New_Zealand_Transverse_Mercator",GEOGCS["GCS_NZGD_2000",DATUM["D_NZGD_2000",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",1600000.0],PARAMETER["False_Northing",10000000.0],PARAMETER["Central_Meridian",173.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]',
  },
  { epsg: 28355, lonDeg: 145.0, latDeg: -37.8, x: 323920.55068, y: 5814491.01878 },
  {
    epsg: 3857,
    lonDeg: 16.37,
    latDeg: 48.2,
    x: 1822300.06429,
    y: 6140192.43929,
    esriWkt:
      'PROJCS["WGS_1984_Web_Mercator_Auxiliary_Sphere",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Mercator_Auxiliary_Sphere"],PARAMETER["False_Easting",0.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",0.0],PARAMETER["Standard_Parallel_1",0.0],PARAMETER["Auxiliary_Sphere_Type",0.0],UNIT["Meter",1.0]]',
  },
  {
    epsg: 2222,
    lonDeg: -112.0,
    latDeg: 33.4,
    x: 140458.92449,
    y: 877994.26641,
    esriWkt:
      'PROJCS["NAD_1983_StatePlane_Arizona_East_FIPS_0201_Feet_Intl",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",700000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-110.166666666667],PARAMETER["Scale_Factor",0.9999],PARAMETER["Latitude_Of_Origin",31.0],UNIT["foot",0.3048]]',
  },
  { epsg: 29903, lonDeg: -6.3, latDeg: 53.3, x: 313389.00092, y: 229065.80479 },
  { epsg: 3346, lonDeg: 25.3, latDeg: 54.7, x: 583792.78309, y: 6063397.19214 },
];
