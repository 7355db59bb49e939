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
    EXPECT_TRUE(
        desk::words(refused(s.desk().logDrain(s.entry(home, at(kMonday, 9), 300))))
            .contains(QStringLiteral("Mon 2 Mar 2026 09:00 lies after Mon 2 Mar 2026 08:00. Enter that "
                                     "one or an earlier one.")));
    const auto said = [](const char *field, std::vector<std::string> args) {
        Problem p;
        p.code = ProblemCode::OutOfRange;
        p.field = field;
        p.args = std::move(args);
        return desk::words(p);
    };
    EXPECT_TRUE(
        said("quantity", {"9", "", "4"}).endsWith(QStringLiteral("9 is more than 4. Enter 4 or less.")));
    EXPECT_TRUE(
        said("quantity", {"0", "1", ""}).endsWith(QStringLiteral("0 is less than 1. Enter 1 or more.")));
    EXPECT_TRUE(
        said("gtin", {"13", "14", "14"}).contains(QStringLiteral("has 13 digits and should have 14")));
    for (const char *field : {"most_per_session_ml", "every_days", "times_a_week"}) {
        const QString text = said(field, {"70000", "1", "6000"});
        EXPECT_FALSE(text.contains(QStringLiteral("in that range"))) << text.toStdString();
        EXPECT_TRUE(text.contains(QStringLiteral("written order"))) << text.toStdString();
    }
}

} // namespace
} // namespace kitround::desk
