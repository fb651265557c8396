import { catches } from './catches.ts';
import { rack } from './rack.ts';
import { tubeStory } from './tube-story.ts';

/** What a person can ask in Semen. */
export const semenQuestions = [catches, rack, tubeStory];
