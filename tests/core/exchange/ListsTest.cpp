// Lists from spreadsheets: what a row becomes, and that every fault is told with its row, at once.
#include "core/exchange/Lists.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <fstream>

namespace kitround::exchange {
namespace {

using test::SmallAgency;

// With a payer by name and a nurse by code, as lists name them.
Snapshot agencyOf() {
    SmallAgency agency;
    return agency
        .edit([](Snapshot &s) {
            s.payers.front().name = "Plan";
            s.nurses.front().code = "N1";
        })
        .build();
}

ReadList readOn(const Snapshot &snapshot, ListKind kind, const std::string &text) {
    return readListText(kind, text, SnapshotIndex(snapshot));
}

bool hasFault(const ReadList &list, int row, const std::string &column, ProblemCode code,
              const std::string &first = {}) {
    return std::ranges::any_of(list.faults, [&](const Problem &p) {
        return p.row == row && p.field == column && p.code == code &&
               (first.empty() || (!p.args.empty() && p.args.front() == first));
    });
}
std::string told(const ReadList &list) {
    std::string text;
    for (const Problem &p : list.faults)
        text += debugText(p) + '\n';
    return text;
}

constexpr const char *kWhole =
    "code,family_name,given_name,born_on,payer,status,primary_nurse,latitude,longitude,point_quality,area,"
    "languages,allergies,site,side,connector,inserted_on,pattern,every_days,anchor_on,order_start_on,"
    "most_per_session_ml,kit,prescriber,signed_on,visit_order,visit_start_on,needs_skills\n"
    "Q-1,Alder,\"Ada \"\"Addy\"\"\nMay\",1950-03-04,Plan,active,N1,40.1,-75.2,exact,rural,en;es,latex,"
    "chest,left,A,2026-02-01,every_n_days,2,2026-02-02,2026-02-02,1000,KIT-500,Dr Invented,2026-02-02,"
    "\"2W4, 1W5\",2026-02-02,drain_chest;site_care\n";

TEST(Lists, APatientComesWithCatheterOrderAndVisits) {
    const Snapshot agency = agencyOf();
    const ReadList list = readOn(agency, ListKind::Patients, kWhole);
    ASSERT_TRUE(list.faults.empty()) << told(list);
    ASSERT_EQ(list.patients.size(), 1U);
    const PatientEntry &entry = list.patients.front();
    EXPECT_EQ(entry.row, 2);
    EXPECT_EQ(entry.patient.givenName, "Ada \"Addy\"\nMay");
    EXPECT_EQ(entry.patient.payer, SmallAgency::kPayer);
    EXPECT_EQ(entry.patient.primaryNurse, SmallAgency::kNurse);
    EXPECT_EQ(entry.patient.address.area, AreaKind::Rural);
    EXPECT_EQ(entry.patient.languages, (std::vector<std::string>{"en", "es"}));
    EXPECT_EQ(entry.patient.allergies, std::vector<Material>{Material::Latex});
    EXPECT_FALSE(entry.patient.acuity) << "nobody has judged it";
    ASSERT_TRUE(entry.catheter && entry.order && entry.visits);
    EXPECT_EQ(entry.catheter->side, Side::Left);
    EXPECT_FALSE(entry.catheter->patient.isSet()) << "set when it is written";
    EXPECT_EQ(entry.order->pattern.everyDays, 2);
    EXPECT_EQ(entry.order->kit, SmallAgency::kKit500);
    EXPECT_EQ(entry.order->mostPerSession, Millilitres::of(1000));
    EXPECT_EQ(entry.visits->segments.size(), 2U);
    EXPECT_TRUE(entry.visits->needs.contains(Skill::SiteCare));
}

TEST(Lists, ColumnsInAnyOrderSemicolonsMarkAndCarriageReturnsAreRead) {
    const Snapshot agency = agencyOf();
    const ReadList list = readOn(
        agency, ListKind::Patients,
        "\xEF\xBB\xBFstatus;payer;family_name;code;allergies\r\nactive;Plan;Alder;Q-1;\"latex;iodine\"\r\n"
        ";;;;\r\nReferred;Plan;Birch;Q-2;\r\n");
    ASSERT_TRUE(list.faults.empty()) << told(list);
    ASSERT_EQ(list.patients.size(), 2U) << "an empty row is passed over";
    EXPECT_EQ(list.patients[0].patient.allergies.size(), 2U);
    EXPECT_EQ(list.patients[1].row, 4) << "and keeps its number";
    EXPECT_FALSE(list.patients[1].catheter);
}

TEST(Lists, EveryFaultIsToldAtOnceWithRowAndColumn) {
    const Snapshot agency = agencyOf();
    const ReadList list = readOn(agency, ListKind::Patients,
                                 "code,family_name,payer,status,born_on,kit,pattern,times_a_week,weekdays\n"
                                 "Q-1,Alder,Plan,active,04.03.1950,,,,\n"
                                 "Q-1,,Nobody,gone,,,,,\n"
                                 "Q-2,Birch,Plan,active,,BOT-500,times_a_week,3,monday\n"
                                 "Q-3,Cedar,Plan,active,2199-01-01,,,,,too much\n");
    EXPECT_TRUE(hasFault(list, 2, "born_on", ProblemCode::NotADate)) << told(list);
    EXPECT_TRUE(hasFault(list, 3, "code", ProblemCode::Conflict, "list_twice")) << told(list);
    EXPECT_TRUE(hasFault(list, 3, "family_name", ProblemCode::Missing)) << told(list);
    EXPECT_TRUE(hasFault(list, 3, "payer", ProblemCode::UnknownRecord)) << told(list);
    EXPECT_TRUE(hasFault(list, 3, "status", ProblemCode::UnknownChoice)) << told(list);
    EXPECT_TRUE(hasFault(list, 4, "kit", ProblemCode::UnknownRecord)) << "a bottle is no kit\n" << told(list);
    EXPECT_TRUE(hasFault(list, 4, "site", ProblemCode::Missing, "list_choices")) << told(list);
    EXPECT_TRUE(hasFault(list, 4, "order_start_on", ProblemCode::Missing)) << told(list);
    EXPECT_TRUE(hasFault(list, 4, "weekdays", ProblemCode::Conflict)) << told(list);
    EXPECT_TRUE(hasFault(list, 5, "row", ProblemCode::Conflict, "list_ragged")) << told(list);
    EXPECT_TRUE(hasFault(list, 5, "born_on", ProblemCode::NotAllowed, "day_to_come")) << told(list);
    EXPECT_TRUE(std::ranges::is_sorted(list.faults, {}, &Problem::row));
    const auto date = std::ranges::find(list.faults, std::string("born_on"), &Problem::field);
    EXPECT_EQ(date->column, 5);
}

TEST(Lists, ColumnsAreRefusedByName) {
    const Snapshot agency = agencyOf();
    const ReadList list = readOn(agency, ListKind::Items, "code,colour,kind,kind\nKIT-9,red,kit,kit\n");
    EXPECT_TRUE(hasFault(list, 1, "head", ProblemCode::Conflict, "list_column_unknown")) << told(list);
    EXPECT_TRUE(hasFault(list, 1, "head", ProblemCode::Conflict, "list_column_twice")) << told(list);
    EXPECT_EQ(std::ranges::count_if(list.faults,
                                    [](const Problem &p) { return p.args.front() == "list_column_missing"; }),
              2)
        << "name, eaches_per_case";
    EXPECT_TRUE(list.items.empty());
}

TEST(Lists, WhatIsOnRecordIsNotOverwritten) {
    const Snapshot agency = agencyOf();
    const ReadList items =
        readOn(agency, ListKind::Items,
               "code,name,kind,bottle_volume_ml,connector,eaches_per_case\nKIT-500,Other,kit,500,any,10\n");
    EXPECT_TRUE(hasFault(items, 2, "code", ProblemCode::Duplicate, "KIT-500")) << told(items);
    const ReadList nurses =
        readOn(agency, ListKind::Nurses,
               "code,family_name,credential,contract_hours\nN1,Other,registered_nurse,40\n");
    EXPECT_TRUE(hasFault(nurses, 2, "code", ProblemCode::Duplicate, "N1")) << told(nurses);
}

TEST(Lists, ANurseHasHoursSkillsAndAShiftADay) {
    const Snapshot agency = agencyOf();
    const ReadList list =
        readOn(agency, ListKind::Nurses,
               "code,family_name,credential,contract_hours,skills,shift_weekdays,shift_from,shift_to\n"
               "N7,Marsh,Registered nurse,37.5,drain_chest; teach@2027-01-31,monday;tuesday,8:00,16:30\n"
               "N8,Reed,aide,forty,cook,monday,16:30,08:00\n");
    ASSERT_EQ(list.nurses.size(), 2U);
    const NurseEntry &entry = list.nurses.front();
    EXPECT_EQ(entry.nurse.contractPerWeek, Minutes::of(2250));
    ASSERT_EQ(entry.nurse.skills.size(), 2U);
    EXPECT_EQ(entry.nurse.skills[1].expiresOn, Date::of(2027, 2, 1))
        << "the day given is the last that counts";
    ASSERT_EQ(entry.shifts.size(), 2U);
    EXPECT_EQ(entry.shifts[1].weekday, Weekday::Tuesday);
    EXPECT_EQ(entry.shifts[1].validFrom, agency.asOf);
    EXPECT_FALSE(std::ranges::any_of(list.faults, [](const Problem &p) { return p.row == 2; })) << told(list);
    EXPECT_TRUE(hasFault(list, 3, "contract_hours", ProblemCode::NotANumber)) << told(list);
    EXPECT_TRUE(hasFault(list, 3, "skills", ProblemCode::UnknownChoice)) << told(list);
    EXPECT_TRUE(hasFault(list, 3, "shift_to", ProblemCode::EndBeforeStart)) << told(list);
}

TEST(Lists, ADayOfTheWeekMayBeCutToThreeLetters) {
    const Snapshot agency = agencyOf();
    const ReadList list =
        readOn(agency, ListKind::Nurses,
               "code,family_name,credential,contract_hours,shift_weekdays,shift_from,shift_to\n"
               "N7,Marsh,aide,40,sun;Mon;tue;wed;thu;FRI;saturday,8:00,16:30\n"
               "N8,Reed,aide,40,m;mond,8:00,16:30\n");
    ASSERT_EQ(list.nurses.size(), 2U);
    ASSERT_EQ(list.nurses.front().shifts.size(), 7U) << told(list);
    for (std::size_t i = 0; i < 7; ++i)
        EXPECT_EQ(list.nurses.front().shifts[i].weekday, static_cast<Weekday>(i));
    EXPECT_TRUE(list.nurses.back().shifts.empty());
    EXPECT_TRUE(hasFault(list, 3, "shift_weekdays", ProblemCode::UnknownChoice)) << told(list);
}

TEST(Lists, EveryWordACellMayHoldIsInTheReadme) {
    std::ifstream file(KITROUND_SOURCE_DIR "/README.md");
    std::vector<std::string> lines;
    for (std::string line; std::getline(file, line);)
        lines.push_back(line);
    const auto stands = [&](std::string_view column, std::string_view word) {
        const auto quoted = [](std::string_view text) { return '`' + std::string(text) + '`'; };
        return std::ranges::any_of(lines, [&](const std::string &line) {
            const std::size_t end = line.find('|', 1);
            return line.starts_with("| `") && line.substr(0, end).find(quoted(column)) != std::string::npos &&
                   line.substr(end).find(quoted(word)) != std::string::npos;
        });
    };
    int choices = 0;
    for (const ListKind kind : kAllLists)
        for (const ListColumn &column : columnsOf(kind))
            for (const std::string_view word : column.words) {
                ++choices;
                EXPECT_TRUE(stands(column.name, word)) << column.name << ": " << word;
            }
    EXPECT_GT(choices, 60);
}

TEST(Lists, AnItemSaysWhatItFitsAndWhoSellsIt) {
    Snapshot agency = agencyOf();
    agency.suppliers.front().code = "SUP";
    const ReadList list = readOn(agency, ListKind::Items,
                                 "code,name,kind,bottle_volume_ml,gtin,connector,eaches_per_case,supplier,"
                                 "supplier_code,price_per_case\n"
                                 "K-1,Kit,kit,500,09520000001001,A,10,SUP,N-11,189.5\n"
                                 "K-2,Kit,kit,500,09520000001001,any,10,,,\n"
                                 "K-3,Kit,kit,500,12,,10,NONE,,\"12,50\"\n");
    ASSERT_EQ(list.items.size(), 3U);
    ASSERT_TRUE(list.items[0].offer);
    EXPECT_EQ(list.items[0].offer->perCase, Money::of(18950));
    EXPECT_EQ(list.items[0].offer->pack.eachesPerCase, Eaches::of(10));
    EXPECT_TRUE(list.items[1].fitsAny);
    EXPECT_TRUE(list.items[1].item.connector.empty());
    EXPECT_TRUE(hasFault(list, 3, "gtin", ProblemCode::Conflict, "list_twice")) << told(list);
    EXPECT_TRUE(hasFault(list, 4, "gtin", ProblemCode::OutOfRange)) << told(list);
    EXPECT_TRUE(hasFault(list, 4, "connector", ProblemCode::Missing)) << told(list);
    EXPECT_TRUE(hasFault(list, 4, "supplier", ProblemCode::UnknownRecord)) << told(list);
    EXPECT_TRUE(hasFault(list, 4, "price_per_case", ProblemCode::NotANumber)) << told(list);
}

TEST(Lists, CountsAreOfTheShelfOrOfAHomeWithoutStockOnRecord) {
    SmallAgency small;
    const test::Home known = small.addHome(), other = small.addHome();
    small.addCatheter(other, CavitySite::Abdomen, Side::Midline);
    small.counted(known, SmallAgency::kKit500, 4, small.asOf().plusDays(-2));
    small.edit([&](Snapshot &s) {
        s.patients[0].code = "Q-1";
        s.patients[1].code = "Q-2";
    });
    const Snapshot agency = small.build();
    const ReadList list = readOn(agency, ListKind::Counts,
                                 "place,patient,site,item,lot,expires_on,quantity,counted_on\n"
                                 "storeroom,,,KIT-500,L1,2027-05-01,20,2026-03-01\n"
                                 "home,Q-2,abdomen,KIT-500,,,6,2026-03-01\n"
                                 "home,Q-1,,KIT-500,,,6,2026-03-01\n"
                                 "home,Q-2,,KIT-500,,,6,2026-03-01\n"
                                 "home,Q-9,,KIT-500,,2027-01-01,-2,2026-03-09\n"
                                 "storeroom,,,KIT-500,l1,,20,2026-03-01\n"
                                 "storeroom,,,KIT-500,l-1 ,,20,2026-03-01\n"
                                 "storeroom,,,KIT-500,L11,,20,2026-03-01\n");
    ASSERT_EQ(list.counts.size(), 8U);
    EXPECT_FALSE(list.counts[0].home);
    EXPECT_EQ(list.counts[0].quantity, Eaches::of(20));
    EXPECT_TRUE(list.counts[1].home);
    EXPECT_FALSE(std::ranges::any_of(list.faults, [](const Problem &p) { return p.row <= 3; })) << told(list);
    EXPECT_TRUE(hasFault(list, 4, "item", ProblemCode::Conflict, "list_stock_known")) << told(list);
    EXPECT_TRUE(hasFault(list, 5, "site", ProblemCode::Conflict, "list_which_catheter")) << told(list);
    EXPECT_TRUE(hasFault(list, 6, "patient", ProblemCode::UnknownRecord)) << told(list);
    EXPECT_TRUE(hasFault(list, 6, "lot", ProblemCode::Missing)) << told(list);
    EXPECT_TRUE(hasFault(list, 6, "counted_on", ProblemCode::NotAllowed)) << told(list);
    EXPECT_TRUE(hasFault(list, 7, "item", ProblemCode::Conflict, "list_twice")) << told(list);
    EXPECT_TRUE(hasFault(list, 8, "item", ProblemCode::Conflict, "list_twice"))
        << "a lot is the same however its number is written\n"
        << told(list);
    EXPECT_FALSE(hasFault(list, 9, "item", ProblemCode::Conflict)) << told(list);
}

TEST(Lists, TheEmptyListHasEveryNameAndNothingToBringIn) {
    const Snapshot agency = agencyOf();
    for (const ListKind kind : kAllLists) {
        EXPECT_EQ(listNamed(nameOf(kind)), kind);
        const ReadList list = readOn(agency, kind, emptyList(kind));
        EXPECT_TRUE(list.faults.empty()) << told(list);
        EXPECT_TRUE(list.patients.empty() && list.nurses.empty() && list.items.empty() &&
                    list.counts.empty());
    }
    EXPECT_FALSE(listNamed("suppliers"));
}

TEST(Lists, WhatIsNoTableIsOneClearFault) {
    const Snapshot agency = agencyOf();
    const std::string head = "code,family_name,payer,status\n";
    const std::string nul = head + std::string("Q-1,Al\0der,Plan,active\n", 23);
    for (const std::string &bytes :
         {std::string(), head + "Q-1,M\xFCller,Plan,active\n", nul, head + "Q-1,\"Alder,Plan,active\n",
          std::string("\xFF\xFE"
                      "c\0o\0",
                      6)}) {
        const ReadList list = readOn(agency, ListKind::Patients, bytes);
        EXPECT_EQ(list.faults.size(), 1U) << told(list);
        EXPECT_TRUE(list.patients.empty());
    }
}

TEST(Lists, ALineOfTenMegabytesIsRefusedQuicklyByItsRow) {
    const Snapshot agency = agencyOf();
    const std::string huge(10'000'000, 'x');
    const ReadList list =
        readOn(agency, ListKind::Patients, "code,family_name,payer,status\nQ-1," + huge + ",Plan,active\n");
    EXPECT_TRUE(hasFault(list, 2, "family_name", ProblemCode::TooLong)) << list.faults.size();
}

TEST(Lists, FiveThousandRowsAreReadInWellUnderASecond) {
    const Snapshot agency = agencyOf();
    std::string text = kWhole;
    const std::string row = text.substr(text.find('\n') + 1);
    for (int i = 2; i <= 5000; ++i)
        text += "Q-" + std::to_string(i) + row.substr(3);
    const auto start = std::chrono::steady_clock::now();
    const ReadList list = readOn(agency, ListKind::Patients, text);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    EXPECT_TRUE(list.faults.empty()) << told(list).substr(0, 400);
    EXPECT_EQ(list.patients.size(), 5000U);
    EXPECT_LT(took.count(), 2.0) << "seconds; on any machine that runs tests beside others";
}

} // namespace
} // namespace kitround::exchange
