// Every refusal of the desk has a sentence of its own that says what to do.
#include "core/desk/words/StateWords.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/Story.h"

#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

namespace kitround::desk {
namespace {

std::set<std::string> wordsInTheCode() {
    const std::regex pattern(
        "ProblemCode::(?:NotAllowed|Conflict|Infeasible),\\s*\"[a-z_]+\",\\s*\\{\"([a-z_]+)\"");
    std::set<std::string> words;
    for (const auto &file : std::filesystem::directory_iterator(KITROUND_SOURCE_DIR "/core/desk/tasks")) {
        std::ifstream in(file.path());
        std::stringstream text;
        text << in.rdbuf();
        const std::string code = text.str();
        for (auto at = std::sregex_iterator(code.begin(), code.end(), pattern); at != std::sregex_iterator();
             ++at)
            words.insert((*at)[1].str());
    }
    return words;
}

TEST(RefusalWords, EveryCodeWordOfTheDeskHasASentenceThatEndsAndNamesAWayOn) {
    const std::set<std::string> words = wordsInTheCode();
    EXPECT_GE(words.size(), 25U);
    for (const std::string &word : words) {
        Problem problem;
        problem.code = ProblemCode::NotAllowed;
        problem.args = {word, "one", "two", "three"};
        const QString sentence = stateSentence(problem);
        EXPECT_TRUE(sentence.endsWith(u'.')) << word;
        EXPECT_FALSE(sentence.contains(u'%')) << word;
    }
}

TEST(RefusalWords, ARefusalReadsAsASentenceWithItsNumbers) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 4, Date::of(2027, 6, 1));
    const Delivery d = s.promise(home, s.kit500, 9, kMonday);
    EXPECT_TRUE(desk::words(refused(s.desk().pick(d.id)))
                    .contains(QStringLiteral("KIT-500: 9 are needed and 4 can be given out.")));
    EXPECT_TRUE(desk::words(refused(s.desk().logDrain(s.entry(home, at(kMonday, 9), 300))))
                    .contains(QStringLiteral("Mon 2 Mar 2026 09:00 is after or above Mon 2 Mar 2026 08:00")));
}

} // namespace
} // namespace kitround::desk
