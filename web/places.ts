// Towns to start from: degrees to a tenth, metres above the sea (from memory). Any other place is typed.
export const places: [string, number, number, number][] = [
  ["Auckland", -36.8, 174.8, 30], ["Berlin", 52.5, 13.4, 40], ["Buenos Aires", -34.6, -58.4, 25], ["Cairo", 30.0, 31.2, 25],
  ["Cape Town", -33.9, 18.4, 25], ["Chicago", 41.9, -87.6, 180], ["Christchurch", -43.5, 172.6, 20], ["Delhi", 28.6, 77.2, 215],
  ["Denver", 39.7, -105.0, 1610], ["Dublin", 53.3, -6.3, 20], ["Hobart", -42.9, 147.3, 30], ["London", 51.5, -0.1, 25],
  ["Madrid", 40.4, -3.7, 660], ["Melbourne", -37.8, 145.0, 30], ["Mexico City", 19.4, -99.1, 2240], ["Nairobi", -1.3, 36.8, 1700],
  ["New York", 40.7, -74.0, 10], ["Paris", 48.9, 2.4, 35], ["Perth", -32.0, 115.9, 20], ["Portland, Oregon", 45.5, -122.7, 15],
  ["Rome", 41.9, 12.5, 20], ["San Francisco", 37.8, -122.4, 20], ["Santiago", -33.4, -70.7, 570], ["São Paulo", -23.6, -46.6, 760],
  ["Seattle", 47.6, -122.3, 50], ["Stockholm", 59.3, 18.1, 30], ["Sydney", -33.9, 151.2, 40], ["Tokyo", 35.7, 139.7, 40],
  ["Toronto", 43.7, -79.4, 100], ["Vancouver", 49.3, -123.1, 50], ["Warsaw", 52.2, 21.0, 100],
];
