#pragma once
// Inside of SampleText: one reader a group of files, sharing codes and problems.
#include "sample-db/SampleText.h"
#include "sample-db/TextTable.h"

#include <map>
#include <string>

namespace kitround::sample {

// Words that several of the files use.
inline constexpr std::pair<std::string_view, Skill> kSkills[] = {
    {"chest", Skill::DrainChest}, {"abdomen", Skill::DrainAbdomen}, {"teach", Skill::Teach},
    {"assess", Skill::Assess},    {"site", Skill::SiteCare},        {"blood", Skill::DrawBlood}};
inline constexpr std::pair<std::string_view, Material> kMaterials[] = {
    {"latex", Material::Latex},
    {"adhesive", Material::Adhesive},
    {"chlorhexidine", Material::Chlorhexidine},
    {"iodine", Material::Iodine}};

struct TextReading {
    const TextSource &source;
    Date today;
    calendar::Zone zone;
    SampleParts parts;
    Problems problems;

    std::map<std::string, PayerId> payers;
    std::map<std::string, NurseId> nurses;
    std::map<std::string, PatientId> patients;
    std::map<std::string, CatheterId> catheters; // "Q-101 A"
    std::map<std::string, ItemId> items;
    std::map<std::string, SupplierId> suppliers;
    std::map<std::string, LotId> lots;   // by number
    std::map<std::string, UserId> users; // by name

    TextTable table(const std::string &name) {
        TextTable table(name, today, zone, problems);
        table.read(source(name));
        return table;
    }
};

void readPeople(TextReading &reading); // agency, users, payers, nurses and their hours, patients
void readStock(TextReading &reading);  // items, suppliers, lots, purchases, cars
void readCare(
    TextReading &reading); // catheters, orders, visits, holds, log, deliveries, calls, incidents, decisions

// "KIT500-A*2 CAP": codes with a count, 1 where none is given.
std::vector<std::pair<std::string, std::int64_t>> countedWords(const TextRow &row, std::string_view column);
GeoPoint pointOnGrid(double kmEast, double kmNorth);

} // namespace kitround::sample
