/** Pictures to try, from the project's own sketches. */

import boats from "samples/harbour-boats.png";
import photo from "samples/headland-photo.jpg";
import lighthouse from "samples/lighthouse-dusk.png";
import houses from "samples/quay-houses.png";

import { words } from "../words";

export const samples = [
  { id: "lighthouse", name: words.samples.lighthouse, bytes: lighthouse, file: "lighthouse-dusk.png" },
  { id: "photo", name: words.samples.photo, bytes: photo, file: "headland-photo.jpg" },
  { id: "boats", name: words.samples.boats, bytes: boats, file: "harbour-boats.png" },
  { id: "houses", name: words.samples.houses, bytes: houses, file: "quay-houses.png" },
] as const;
